"""Run the first hour on a display of its own; print what it took, and leave a picture of each step."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from tests.first_hour.acted import acted


def main(words: list[str]) -> int:
    """Run it; the status is 1 where it took more than it may."""
    parser = argparse.ArgumentParser(prog="python -m tests.first_hour")
    parser.add_argument("out", type=Path, help="folder for the farm and the pictures")
    parser.add_argument("--size", default="1600x1000", help="of the screen")
    parser.add_argument("--keys", action="store_true", help="by the keyboard alone")
    asked = parser.parse_args(words)
    lines, status = acted(asked.out, asked.size, by_keys=asked.keys)
    sys.stdout.write("\n".join(lines) + "\n")
    return status


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
