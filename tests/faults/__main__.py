"""Try faults and print what came of them: ``python -m tests.faults [--full] [--seed N] [NAME ...]``; 1 on any loss."""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

from tests.faults.counts import Counts
from tests.faults.damage import damaged_files
from tests.faults.full_disk import full_disks
from tests.faults.importers import broken_files
from tests.faults.kills import kills
from tests.faults.merged import merged_copies
from tests.faults.migration import broken_migrations
from tests.faults.power import WEAK, power_cuts
from tests.faults.undoing import random_steps

Fault = Callable[[Path, int, int], Counts]
FAULTS: dict[str, tuple[int, int, Fault]] = {
    "kill": (20, 2000, kills),
    "power": (60, 10_000, power_cuts),
    "full": (20, 200, full_disks),
    "damage": (50, 5000, damaged_files),
    "migration": (10, 200, broken_migrations),
    "importers": (200, 5000, broken_files),
    "undo": (200, 5000, random_steps),
    "merged": (10, 1000, merged_copies),
}
"""How many are tried usually, how many with ``--full``, and what does it."""
CONTROL = 100
"""Power cuts with weaker settings: they have to lose something, or the test could not."""


def main(arguments: list[str]) -> int:
    """Try them; the exit status is 1 on any loss."""
    parser = argparse.ArgumentParser(prog="python -m tests.faults", description=__doc__)
    parser.add_argument("names", metavar="NAME", nargs="*", help=f"of {', '.join(FAULTS)}; all of them if none")
    parser.add_argument("--full", action="store_true", help="as many as are asked for, some of an hour")
    parser.add_argument("--seed", type=int, default=1, help="of all that is random")
    asked = parser.parse_args(arguments)
    strange = [name for name in asked.names if name not in FAULTS]
    if strange:
        parser.error(f"there is no fault {strange[0]}; there are {', '.join(FAULTS)}")
    status = 0
    for name in asked.names or FAULTS:
        few, many, tries = FAULTS[name]
        status |= told(partial(tries, seed=asked.seed), many if asked.full else few)  # type: ignore[call-arg]
        if name == "power":
            for called, writing in WEAK.items():
                status |= told(partial(power_cuts, writing=writing, name=called), CONTROL, loses=True)
    return status


def told(tries: Callable[[Path, int], Counts], number: int, *, loses: bool = False) -> int:
    """Try one fault, print its row, and return 1 where it is not as it has to be."""
    began = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        counts = tries(Path(folder), number)
    note = "  (weaker settings: these have to lose)" if loses else ""
    sys.stdout.write(f"{counts.line()}, {time.monotonic() - began:.0f} s{note}\n")
    for words in () if loses else counts.seen:
        sys.stdout.write(f"    {words}\n")
    sys.stdout.flush()
    return int(counts.holds == loses)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
