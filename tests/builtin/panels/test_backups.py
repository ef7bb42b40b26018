"""The plate of backups: what is kept, and one of them opened as a farm of its own."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, time, timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.backups import Backups
from pigmap.document.edits import add_group
from pigmap.qt.stage import Stage
from pigmap.session import Session
from pigmap.session.backups import keep_backup
from pigmap.session.new_farm import Made
from tests.qt.window_farm import TODAY, made_panel, made_stage

NOON = datetime.combine(TODAY, time(12, 5))


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Stage]:
    monkeypatch.setenv("PIGMAP_DATA", str(tmp_path / "data"))
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def plate(stage: Stage) -> Iterator[Backups]:
    with made_panel(stage, "backups", (420, 520)) as made:
        assert isinstance(made, Backups)
        yield made
        made.close_down()


def lines(plate: Backups) -> list[str]:
    plate.open_plate()
    return [plate.list.item(row).text() for row in range(plate.list.count())]


def test_without_any_it_says_when_the_first_is_kept(plate: Backups) -> None:
    assert lines(plate) == ["None yet. The first is kept soon after a farm of your own is opened."]
    assert not plate.open.isEnabled()


def test_they_are_listed_from_the_newest_as_people_say_days(plate: Backups, stage: Stage) -> None:
    for number, ago in enumerate((9, 1, 0)):
        stage.session.do(add_group(f"Group {number}")).result()
        keep_backup(stage.session.path, NOON - timedelta(days=ago))
    assert [line.partition(";")[0] for line in lines(plate)] == [
        "12:05, today",
        "12:05, yesterday",
        "12:05, Mon 4 May 2026",
    ]


def test_one_opens_as_a_farm_of_its_own_by_keys(plate: Backups, stage: Stage, qtbot: QtBot) -> None:
    keep_backup(stage.session.path, NOON)
    stage.session.do(add_group("Late pigs")).result()
    plate.open_plate()
    assert plate.list.hasFocus() or plate.first() is plate.list
    asked: list[Made] = []
    stage.farm_asked.connect(asked.append)
    QTest.keyClick(plate.list, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: bool(asked), timeout=5000)
    (made,) = asked
    assert made.path.parent == stage.session.path.parent
    assert str(made.words).startswith(f"This is {made.path.name}, a copy beside the farm as it was before.")
    with Session.open(made.path) as copy:
        assert "Late pigs" not in {group.name for group in copy.farm.groups.values()}
