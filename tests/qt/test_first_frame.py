"""What is loaded when the window shows the farm for the first time, looked at in a process of its own."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.qt.window_farm import make_session

FIRST_FRAME = """
import sys
from datetime import date
from pathlib import Path
import pigmap.qt
before_qt = {"numpy", "shapely", "pigmap.session"} <= set(sys.modules) and "PySide6" not in sys.modules
from pigmap.qt.following import follow
from pigmap.qt.jobs import Poster
from pigmap.qt.starting import application, stage_for
from pigmap.qt.window import Window
from pigmap.session import Session

app = application()
session = Session.open(Path(sys.argv[1]), post=Poster(app).post)
stage = stage_for(session, date(2026, 5, 13))
stop = follow(stage)
window = Window(stage)
seen = []
window.map.first_frame.connect(lambda: seen.append(sorted(set(sys.modules))))
window.show()
while not seen or not window.map.complete:
    app.processEvents()
heavy = {"pandas", "geopandas", "scipy", "rasterio", "pyproj", "pyogrio", "PySide6.QtNetwork", "numpy.random"}
heavy |= {"pigmap.builtin.panels.card", "pigmap.builtin.panels.tray"}
print("at the first frame:", *sorted(heavy.intersection(seen[0])))
print("before Qt:", before_qt, "later:", window.panel("card") is not None)
stop()
window.close_down()
session.close()
"""


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    make_session(tmp_path).close()
    return tmp_path / "hill.gpkg"


def test_the_first_frame_loads_none_of_the_heavy_modules(farm: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", FIRST_FRAME, str(farm)],
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines() == ["at the first frame:", "before Qt: True later: True"]
