"""What is loaded when the window shows the farm for the first time, looked at in a process of its own."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QSignalSpy, QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pigmap.plugins import Registry
from pigmap.qt.placed_panels import PlacedPanels
from pigmap.qt.window import Window
from tests.plugins.strangers import stranger
from tests.qt.window_farm import drop, made_stage, make_session

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
heavy |= {"pigmap.builtin.panels." + name for name in ("card", "key", "tray", "history", "plan_breaches")}
heavy |= {"pigmap.document.edits", "pigmap.imagery.source"}
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


def test_what_the_first_frame_waits_for_is_told_when_it_is_there(qtbot: QtBot, tmp_path: Path) -> None:
    with made_stage(tmp_path) as stage:
        came = QSignalSpy(stage.came_up)
        window = Window(stage)
        assert stage.coming_up
        window.show()
        qtbot.waitUntil(lambda: came.count() == 1)
        assert not stage.coming_up
        window.close_down()
        drop(window)


def test_nothing_is_made_under_a_hand_that_drags(qtbot: QtBot, tmp_path: Path) -> None:
    with made_stage(tmp_path) as stage:
        window = Window(stage)
        window.show()
        QTest.mousePress(window.map, Qt.MouseButton.LeftButton, pos=window.map.rect().center())
        qtbot.waitUntil(lambda: not stage.coming_up)
        qtbot.wait(20)
        assert window.part("key") is None
        QTest.mouseRelease(window.map, Qt.MouseButton.LeftButton, pos=window.map.rect().center())
        qtbot.waitUntil(lambda: window.part("key") is not None)
        window.close_down()
        drop(window)


def test_panels_that_wait_come_one_at_a_time_and_plates_when_they_are_asked_for(qtbot: QtBot, tmp_path: Path) -> None:
    with made_stage(tmp_path) as stage:
        made: list[QWidget] = []
        window, canvas = QWidget(), QWidget()
        qtbot.addWidget(window)
        qtbot.addWidget(canvas)
        panels = PlacedPanels(stage, window, canvas, made.append)
        assert [panels.at(place) is not None for place in ("verbs", "column", "season", "key", "card")] == [
            *[True] * 3,
            *[False] * 2,
        ]
        before = len(made)
        assert panels.make_next()
        assert len(made) == before + 1
        assert panels.at("key") is made[-1]
        panels.make_rest()
        assert not panels.make_next()
        assert panels.at("card") is not None
        whole = len(made)
        assert panels.named("history") is made[-1]
        assert len(made) == whole + 1
        assert panels.named("history") is made[-1]


def test_a_strangers_panel_that_cannot_be_made_is_left_out_and_told(qtbot: QtBot, tmp_path: Path) -> None:
    with made_stage(tmp_path) as stage:
        entries = [stranger("panels", "broken", "tests.plugins.broken_panel:panel")]
        registry = stage.session._registry = Registry(entries)
        window, canvas = QWidget(), QWidget()
        qtbot.addWidget(window)
        qtbot.addWidget(canvas)
        panels = PlacedPanels(stage, window, canvas, lambda _: None)
        panels.make_rest()
        assert panels.named("broken") is None
        (notice,) = stage.notices
        assert str(notice.text) == (
            "stranger: panels broken cannot be used: ZeroDivisionError: no ground. "
            "Everything else works without it; its maker can mend it."
        )
        assert [fault.part.name for fault in registry.faults] == ["broken"]


IMPORTED = """
from pigmap.qt.own_import import take_back_import
take_back_import()
import linecache
import pigmap.qt.stage
from PySide6.QtCore import QObject
print(any("stage.py" in name for name in linecache.cache), QObject().objectName() == "")
"""


def test_after_qt_modules_are_loaded_without_a_look_through_their_source() -> None:
    done = subprocess.run([sys.executable, "-c", IMPORTED], capture_output=True, text=True, check=False, timeout=120)
    assert done.stdout.split() == ["False", "True"], done.stderr
