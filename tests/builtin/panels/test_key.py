from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.key import KeyPanel
from pigmap.document.edits import remove
from pigmap.drawing.tokens import BARE, MAP_PLAN, REST_COLOURS, UNKNOWN
from pigmap.qt.buttons import WordButton
from pigmap.qt.ground_spot import GroundSpot
from pigmap.qt.stage import Picked, Room, Stage
from tests.qt.window_farm import made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def key(stage: Stage) -> Iterator[KeyPanel]:
    with made_panel(stage, "key", (224, 380)) as made:
        assert isinstance(made, KeyPanel)
        yield made


def _shown(panel: QWidget) -> list[str]:
    return [button.text() for button in panel.findChildren(WordButton) if button.isVisible()]


def _colours(panel: QWidget) -> set[str]:
    image = panel.grab().toImage()
    return {
        QColor(image.pixel(x, y)).name().upper()
        for x in range(0, image.width(), 2)
        for y in range(0, image.height(), 2)
    }


def test_four_ways_are_in_front_and_more_brings_the_others(key: KeyPanel) -> None:
    assert _shown(key) == ["Rest", "Rooting", "Rest and rooting", "Ready", "More"]
    key._more_button.click()
    more = _shown(key)
    assert more[:7] == ["Rest", "Rooting", "Rest and rooting", "Ready", "Stocking", "Nitrogen", "Since pigs"]
    assert more[-2:] == ["Photo only", "Less"]


def test_the_switch_of_what_is_shown_is_in_sight_whichever_key_chose_it(key: KeyPanel, stage: Stage) -> None:
    stage.show_tint("stocking")
    assert key._switches["stocking"].isVisible()
    assert key._switches["stocking"].isChecked()
    key._more_button.click()
    assert not key._switches["stocking"].isVisible()


@pytest.mark.parametrize("step", [BARE, UNKNOWN])
def test_ground_without_a_colour_has_its_line_and_is_pointed_at(key: KeyPanel, stage: Stage, step: int) -> None:
    before = key.grab().toImage()
    stage.pointed_at.emit(GroundSpot(step, 0))
    marked = key.grab().toImage()
    assert marked != before
    stage.pointed_at.emit(GroundSpot(BARE + UNKNOWN - step, 0))
    assert key.grab().toImage() != marked
    stage.pointed_at.emit(None)
    assert key.grab().toImage() == before


def test_the_photo_alone_needs_no_line_on_ground_without_a_colour(key: KeyPanel, stage: Stage) -> None:
    stage.show_tint("none")
    before = key.grab().toImage()
    stage.pointed_at.emit(GroundSpot(UNKNOWN, 0))
    assert key.grab().toImage() == before


def test_a_switch_shows_the_ground_that_way(key: KeyPanel, stage: Stage) -> None:
    key._switches["ready"].click()
    assert stage.tint == "ready"
    assert [name for name, button in key._switches.items() if button.isChecked()] == ["ready"]


def test_pressing_what_is_shown_keeps_it_shown(key: KeyPanel, stage: Stage) -> None:
    key._switches["rest-and-rooting"].click()
    assert stage.tint == "rest-and-rooting"
    assert key._switches["rest-and-rooting"].isChecked()


def test_the_table_has_the_very_colours_of_the_ground(key: KeyPanel) -> None:
    key.resize(key.sizeHint())
    assert set(REST_COLOURS) <= _colours(key)


def test_it_folds_up_into_a_button_where_there_is_little_room(key: KeyPanel, stage: Stage) -> None:
    assert key.is_open
    stage.fit(Room("small", 248))
    assert not key.is_open
    assert _shown(key) == []
    assert key.sizeHint().height() < 70
    key._fold.click()
    assert key.is_open


def test_it_is_folded_up_until_the_first_pigs_came(stage: Stage) -> None:
    stays = list(stage.session.farm.stays)
    for uid in stays:
        stage.session.do(remove("stays", uid)).result()
    with made_panel(stage, "key", (224, 380)) as key:
        assert isinstance(key, KeyPanel)
        assert not key.is_open
        for _ in stays:
            stage.session.undo().result()
        assert key.is_open
        assert "Rest" in _shown(key)


def test_the_rest_that_is_wanted_is_named(key: KeyPanel, stage: Stage) -> None:
    assert ("Blue mark: 60 days wanted in Top Field now", True) in key._notes()
    stage.pick(Picked("paddocks", "group0p3"))
    assert ("Blue mark: 60 days wanted in Top Field now", True) in key._notes()
    stage.show_tint("stocking")
    assert key._notes() == []


def test_the_cap_on_nitrogen_is_marked_and_named_in_blue_as_advice(key: KeyPanel, stage: Stage) -> None:
    stage.show_tint("nitrogen")
    ((words, blue),) = key._notes()
    assert blue
    assert "170 kg/ha a year" in words
    assert "Advice" in words
    key.resize(key.sizeHint())
    assert MAP_PLAN in _colours(key)
    stage.show_tint("stocking")
    assert MAP_PLAN not in _colours(key)


@pytest.mark.parametrize(
    "name", ["rest", "rooting", "rest-and-rooting", "ready", "stocking", "nitrogen", "since-pigs", "none"]
)
def test_every_way_has_a_key_that_can_be_drawn(key: KeyPanel, stage: Stage, name: str) -> None:
    stage.show_tint(name)
    key.resize(key.sizeHint())
    assert not key.grab().isNull()


def test_the_field_that_the_ground_under_the_pointer_is_shown_as_is_outlined(key: KeyPanel, stage: Stage) -> None:
    key.resize(key.sizeHint())
    plain = key.grab().toImage()
    stage.pointed_at.emit(GroundSpot(2, 3))
    marked = key.grab().toImage()
    assert marked != plain
    stage.pointed_at.emit(GroundSpot(5, 0))
    assert key.grab().toImage() not in (plain, marked)
    stage.pointed_at.emit(None)
    assert key.grab().toImage() == plain
