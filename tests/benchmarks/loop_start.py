"""From the start of the process to the first complete frame of the sample farm."""

from __future__ import annotations

import sys
from pathlib import Path
from statistics import median

from tests.benchmarks.sticks import BARE_WINDOW, Measured, run


def measure_start(farm: Path, environment: dict[str, str], *, repeats: int) -> dict[str, Measured]:
    """Start a bare window and the program in turn, each to its first complete frame."""
    ours: list[float] = []
    bare: list[float] = []
    printed = ""
    for turn in range(repeats + 1):
        took, printed = run(["-m", "tests.benchmarks.loop_frame", str(farm)], environment)
        stick, _ = run(["-c", BARE_WINDOW], environment)
        if turn:  # the first turn compiles and fills caches
            ours.append(took)
            bare.append(stick)
    heavy = printed.split()
    note = f"{median(ours) * 1000:.0f} ms against {median(bare) * 1000:.0f} ms, each {repeats} times in turn"
    return {
        "first-frame": Measured(median(ours), median(ours) / median(bare), note=note),
        "first-frame-imports": Measured(float(len(heavy)), note=", ".join(heavy)),
    }


def make_overview(farm: Path) -> None:
    """Make the small pictures of the farm's images, as linking them does."""
    from pigmap.session import Session
    from pigmap.session.images import FarmImages

    with Session.open(farm) as session:
        images = FarmImages(session)
        for uid in session.farm.images:
            assert images.overview(uid, make=True) is not None
        images.close()


if __name__ == "__main__":
    make_overview(Path(sys.argv[1]))
