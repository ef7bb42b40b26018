"""The plate on which a copy of the farm is brought in, and what was changed in both is settled."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.copies import Copies
from pigmap.document.edits import amend
from pigmap.qt.stage import Stage
from pigmap.session import Session
from tests.qt.window_farm import made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def plate(stage: Stage) -> Iterator[Copies]:
    with made_panel(stage, "copies", (420, 640)) as made:
        assert isinstance(made, Copies)
        made.open_plate()
        yield made
        made.close_down()


@pytest.fixture
def copy(stage: Stage, tmp_path: Path) -> Path:
    """Return a copy in which two groups have another note than here."""
    path = tmp_path / "copy.gpkg"
    shutil.copy(stage.session.path, path)
    for uid in ("group0", "group1"):
        stage.session.do(amend("groups", uid, note=f"{uid} here")).result()
    with Session.open(path, made_by="helper") as session:
        for uid in ("group0", "group1"):
            session.do(amend("groups", uid, note=f"{uid} there")).result()
    return path


def _note(stage: Stage, uid: str) -> str:
    return stage.session.farm.groups[uid].note


def test_without_anything_in_both_it_only_asks_for_a_copy(plate: Copies) -> None:
    assert plate.first() is plate.bring
    assert plate.list.isHidden()
    assert plate.take.isHidden()


def test_a_copy_is_brought_in_and_both_values_stand_side_by_side(
    stage: Stage, plate: Copies, copy: Path, qtbot: QtBot
) -> None:
    plate.bring_in(copy)
    qtbot.waitUntil(lambda: len(plate.open) == 2, timeout=8000)
    assert _note(stage, "group0") == "group0 there"
    assert [plate.list.item(row).text() for row in range(2)] == ["Dry sows: note", "Weaners: note"]
    assert plate.kept.text().startswith("Stands: group0 there (helper, ")
    assert plate.other.text().startswith("Other: group0 here (")
    assert stage.words(stage.notices[-1].text) == "Brought in 2 steps from copy.gpkg (helper)."
    assert stage.notices[-1].deed == "undo"
    assert plate.bring.isEnabled()


def test_the_other_is_taken_or_what_stands_is_let_stand(stage: Stage, plate: Copies, copy: Path, qtbot: QtBot) -> None:
    plate.bring_in(copy)
    qtbot.waitUntil(lambda: len(plate.open) == 2, timeout=8000)
    plate.take.click()
    qtbot.waitUntil(lambda: len(plate.open) == 1, timeout=8000)
    assert _note(stage, "group0") == "group0 here"
    plate.leave.click()
    qtbot.waitUntil(lambda: not plate.open, timeout=8000)
    assert _note(stage, "group1") == "group1 there"
    assert plate.list.isHidden()


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("farm.gpkg", "is the farm itself. Choose the copy that came back from the other computer."),
        ("copy.gpkg", "All that was done in copy.gpkg is here already. Nothing is to be done."),
        ("nowhere.gpkg", "nowhere.gpkg"),
    ],
)
def test_what_is_no_copy_is_said_and_another_can_be_chosen(
    stage: Stage, plate: Copies, name: str, said: str, qtbot: QtBot, tmp_path: Path
) -> None:
    shutil.copy(stage.session.path, tmp_path / "copy.gpkg")
    plate.bring_in(stage.session.path if name == "farm.gpkg" else tmp_path / name)
    qtbot.waitUntil(lambda: bool(plate.said.text()), timeout=8000)
    QApplication.processEvents()
    assert said in plate.said.text()
    assert plate.bring.isEnabled()
