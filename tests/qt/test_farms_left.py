"""Farms that were left are let go of: whoever opens ten in a row has one in memory."""

from __future__ import annotations

import gc
from pathlib import Path
from weakref import ReferenceType, ref

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.qt import app
from pigmap.qt.starting import application
from pigmap.qt.window import Window
from pigmap.records import Farm
from pigmap.session.new_farm import Made
from tests.qt.window_farm import make_session

FARMS = 4
PLATES = ("data", "start", "find", "history")
VERBS = ("draw", "place", "pin", "pick")


@pytest.fixture
def farms(tmp_path: Path) -> list[Path]:
    found = []
    for number in range(FARMS):
        folder = tmp_path / str(number)
        folder.mkdir()
        with make_session(folder) as session:
            found.append(session.path)
    return found


class Walk:
    """Goes through farms as a person does: looks at plates and verbs of each, then opens the next."""

    def __init__(self, farms: list[Path]) -> None:
        self.farms = farms
        self.seen: list[tuple[ReferenceType[object], ...]] = []
        QTimer.singleShot(50, application(), self.look)

    def look(self) -> None:
        """Wait for the window of the next farm."""
        shown = [each for each in QApplication.topLevelWidgets() if isinstance(each, Window) and each.isVisible()]
        if not shown or (self.seen and self.seen[-1][0]() is shown[0]):
            QTimer.singleShot(50, application(), self.look)
            return
        stage = shown[0].stage
        self.seen.append((ref(shown[0]), ref(stage), ref(stage.session), ref(stage.session.ground)))
        for plate in PLATES:
            stage.plate_asked.emit(plate)
        for verb in VERBS:
            stage.take_up(verb)
        QTimer.singleShot(300, application(), self.go)

    def go(self) -> None:
        """Open the next farm, or close the window."""
        window = self.seen[-1][0]()
        assert isinstance(window, Window)
        if len(self.seen) < len(self.farms):
            window.stage.farm_asked.emit(Made(self.farms[len(self.seen)]))
            QTimer.singleShot(50, application(), self.look)
        else:
            QApplication.exit(0)


def test_of_farms_that_were_left_nothing_stays_in_memory(qtbot: QtBot, farms: list[Path]) -> None:
    before = number_of_farms()
    walk = Walk(farms)
    assert app.run(farms[0]) == 0
    gc.unfreeze()
    gc.collect()
    assert len(walk.seen) == FARMS
    assert [[what() is not None for what in seen] for seen in walk.seen] == [[False] * 4] * FARMS
    assert number_of_farms() - before <= 2  # a figure of the last farm may be kept for the next day that is shown


def number_of_farms() -> int:
    gc.collect()
    return sum(type(each) is Farm for each in gc.get_objects())
