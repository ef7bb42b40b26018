"""The history shows the farm as it was then; a bar says so, and leads back."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.history import History
from pigmap.builtin.panels.message import MessageBar
from pigmap.document.edits import rename
from pigmap.qt.stage import Stage
from pigmap.session.new_farm import Made
from pigmap.session.past import open_past
from tests.qt.window_farm import made_panel, made_window


def test_the_button_asks_for_the_farm_as_it_was(qtbot: QtBot, tmp_path: Path) -> None:
    with made_window(tmp_path) as window:
        window.stage.session.do(rename("groups", "group0", "Old sows")).result()
        window.stage.plate_asked.emit("history")
        plate = window.panel("history")
        assert isinstance(plate, History)
        asked: list[Made] = []
        window.stage.farm_asked.connect(asked.append)
        plate.list.setCurrentIndex(plate.lines.index(1))
        assert plate.then.accessibleName() == "Show the farm as it was then"
        QTest.keyClick(plate.then, Qt.Key.Key_Space)
        (made,) = asked
        assert made.path == window.stage.session.path
        assert made.as_of == plate.lines.entries[1].edit_uid


def test_a_bar_says_that_it_is_the_past_and_leads_back(qtbot: QtBot, tmp_path: Path) -> None:
    with made_window(tmp_path) as window:
        window.stage.session.do(rename("groups", "group0", "Old sows")).result()
        (newest, before, *_), path, today = (
            window.stage.session.history(),
            window.stage.session.path,
            window.stage.today,
        )
    with open_past(path, before.edit_uid) as session:
        stage = Stage(session, today)
        assert session.farm.groups["group0"].name != "Old sows"
        with made_panel(stage, "message") as bar:
            assert isinstance(bar, MessageBar)
            assert bar.shown is not None
            said = stage.words(bar.shown.text)
            assert said.startswith("This is the past: the farm as it was on ")
            assert bar.isVisible()
            asked: list[Made] = []
            stage.farm_asked.connect(asked.append)
            bar._deed.click()
            assert asked == [Made(path)]
    assert newest.edit_uid != before.edit_uid
