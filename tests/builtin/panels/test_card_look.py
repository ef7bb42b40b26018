from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.card_look import CardLook
from pigmap.qt.stage import Picked, Stage
from tests.qt.window_farm import day, made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        made.show_day(day(3))
        made.take_up("moves")
        yield made


@pytest.fixture
def plate(stage: Stage) -> Iterator[CardLook]:
    with made_panel(stage, "move-card", (400, 700)) as made:
        assert isinstance(made, CardLook)
        yield made


def _title(plate: CardLook) -> str:
    assert plate.picture.page is not None
    return plate.picture.page.title


def test_it_begins_with_the_move_that_is_picked_and_goes_on_to_that_of_all(plate: CardLook, stage: Stage) -> None:
    stage.pick(Picked("paddocks", "group1p3"))
    plate.open_plate()
    assert _title(plate) == "Weaners"
    assert plate._which.text() == "Move 2 of 2"
    assert plate.picture.accessibleName() == "Weaners, as it prints"
    plate.on.click()
    assert _title(plate) == "Moves"
    assert plate._which.text() == "The list of all moves"
    assert not plate.on.isEnabled()
    plate.back.click()
    plate.back.click()
    assert _title(plate) == "Dry sows"
    assert not plate.back.isEnabled()


def test_a_card_is_as_large_as_paper_a6_and_something_is_drawn(plate: CardLook) -> None:
    plate.open_plate()
    page = plate.picture.page
    assert page is not None
    assert (page.width_mm, page.height_mm) == (105.0, 148.0)
    image: QImage = plate.picture.grab().toImage()
    inked = [
        image.pixelColor(x, y).lightness() for x in range(0, image.width(), 3) for y in range(0, image.height(), 3)
    ]
    assert min(inked) < 60
    assert max(inked) > 250


def test_it_follows_the_day_and_goes_where_no_group_moves(plate: CardLook, stage: Stage) -> None:
    plate.open_plate()
    stage.show_day(day(1))
    assert plate.isHidden()


def test_it_goes_with_another_verb_and_with_escape(plate: CardLook, stage: Stage) -> None:
    plate.open_plate()
    QTest.keyClick(plate, Qt.Key.Key_Escape)
    assert plate.isHidden()
    plate.open_plate()
    stage.take_up("pick")
    assert plate.isHidden()
