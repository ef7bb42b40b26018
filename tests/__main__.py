"""Run every check of the project: ``python -m tests``. The exit status is that of the worst."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
BIN = Path(sys.executable).parent

CHECKS: dict[str, list[str]] = {
    "lint": [sys.executable, "-m", "ruff", "check", "."],
    "layout": [sys.executable, "-m", "ruff", "format", "--check", "."],
    "types": [sys.executable, "-m", "mypy"],
    # Running it as a module ends 0 without checking anything (import-linter 2.17).
    "imports": [str(BIN / "lint-imports"), "--no-logo"],
    "tests": [sys.executable, "-m", "pytest", "-q"],
}


def main(wanted: list[str]) -> int:
    """Run the checks that are named, or all; say which failed."""
    failed = []
    for name in wanted or list(CHECKS):
        print(f"== {name}", flush=True)
        began = time.monotonic()
        status = subprocess.run(CHECKS[name], cwd=ROOT, check=False).returncode
        print(f"== {name}: {'ok' if status == 0 else f'status {status}'}, {time.monotonic() - began:.0f} s", flush=True)
        if status:
            failed.append(name)
    if failed:
        print(f"Not in order: {', '.join(failed)}.")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
