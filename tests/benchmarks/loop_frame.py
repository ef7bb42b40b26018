"""The program up to its first complete frame, in a process that imports nothing for the measuring itself."""

from __future__ import annotations

import os
import sys
from datetime import date
from pathlib import Path

HEAVY = ("pandas", "geopandas", "scipy", "rasterio", "pyproj")


def show_first_frame(farm: Path) -> None:
    """Show the window as the program does until image, fields, paddocks and tint are painted; tell of heavy modules."""
    from pigmap.qt import collecting
    from pigmap.qt.own_import import take_back_import
    from pigmap.session.opening import Opening

    collecting.rest()
    opening = Opening(farm)
    take_back_import()
    from pigmap.qt.following import follow
    from pigmap.qt.jobs import Poster
    from pigmap.qt.starting import application, stage_for
    from pigmap.qt.window import Window

    app = application()
    session = opening.session(Poster(app).post)
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


if __name__ == "__main__":
    show_first_frame(Path(sys.argv[1]))
