"""From the start of the process to the first complete frame of the sample farm."""

from __future__ import annotations

import os
import sys
from datetime import date
from pathlib import Path
from statistics import median

from tests.benchmarks.sticks import BARE_WINDOW, Measured, run

HEAVY = ("pandas", "geopandas", "scipy", "rasterio", "pyproj")


def measure_start(farm: Path, environment: dict[str, str], *, repeats: int) -> dict[str, Measured]:
    """Start a bare window and the program in turn, each to its first complete frame."""
    ours: list[float] = []
    bare: list[float] = []
    printed = ""
    for turn in range(repeats + 1):
        took, printed = run(["-m", "tests.benchmarks.loop_start", "frame", str(farm)], environment)
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


def show_first_frame(farm: Path) -> None:
    """Show the window until image, fields, paddocks and tint are painted; print which heavy modules are loaded."""
    from pigmap.qt.following import follow
    from pigmap.qt.jobs import Poster
    from pigmap.qt.starting import application, stage_for
    from pigmap.qt.window import Window
    from pigmap.session import Session

    app = application()
    session = Session.open(farm, post=Poster(app).post)
    stage = stage_for(session, date.today())
    follow(stage)
    window = Window(stage)
    window.resize(1600, 1000)
    window.map.first_frame.connect(_tell_and_end)
    window.show()
    while True:
        app.processEvents()


def _tell_and_end() -> None:
    print(*[name for name in HEAVY if name in sys.modules], flush=True)
    os._exit(0)


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
    {"frame": show_first_frame, "overview": make_overview}[sys.argv[1]](Path(sys.argv[2]))
