from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.group_card import GroupCard
from pigmap.builtin.panels.group_words import GroupWords, group_words
from pigmap.document.edits import record_check, remove
from pigmap.qt.stage import Picked, Room, Stage
from pigmap.qt.whereabouts import Book, short_name
from tests.qt.window_farm import TODAY, day, made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


def _words(stage: Stage, uid: str = "group0") -> GroupWords:
    return group_words(stage, Book(stage.session.farm), stage.session.farm.groups[uid])


def _cards(panel: QWidget) -> list[GroupCard]:
    return [card for card in panel.findChildren(GroupCard) if not card.isHidden()]


def test_a_card_says_who_where_since_when_and_where_to(stage: Stage) -> None:
    words = _words(stage)
    assert words.pigs == "8 pigs, 80 kg each"
    assert words.place == "Top Field 3"
    assert words.day_of == "day 3 of 5"
    assert words.reading == "5.9 kV on Tuesday"
    assert words.move_day == "Sat 16 May"
    assert words.move_to == "to Top Field 4, carry 3"


def test_away_from_today_the_reading_gives_way(stage: Stage) -> None:
    stage.show_day(day(4))
    assert _words(stage).reading == "planned"
    assert _words(stage).place == "Top Field 4"
    stage.show_day(day(-8))
    assert _words(stage).reading == "as recorded"


def test_a_check_with_trouble_asks_for_a_hand(stage: Stage) -> None:
    stage.session.do(
        record_check("group0p2", TODAY, group_uid="group0", pigs_seen=7, water_ok=False, soil_on_net=True)
    ).result()
    assert _words(stage).cares == (
        "Water was not well: see to it",
        "Soil on the net: clear it",
        "7 of 8 pigs counted",
    )


def test_a_group_with_nowhere_to_go_is_told_in_time(stage: Stage) -> None:
    stage.session.do(remove("stays", "group0s3")).result()
    stage.today = day(2)
    stage.show_day(day(2))
    assert _words(stage).cares == ("No next paddock: place one",)
    assert _words(stage).move_to == "No next paddock yet"


def test_the_cards_are_the_groups_and_pressing_one_picks_it(stage: Stage) -> None:
    with made_panel(stage, "groups") as panel:
        assert [card.words.name for card in _cards(panel)] == ["Dry sows", "Weaners"]
        QTest.mouseClick(_cards(panel)[1], Qt.MouseButton.LeftButton)
        assert stage.picked == Picked("groups", "group1")
        assert [card.isChecked() for card in _cards(panel)] == [False, True]


def test_the_group_of_a_picked_paddock_is_marked(stage: Stage) -> None:
    with made_panel(stage, "groups") as panel:
        stage.pick(Picked("paddocks", "group1p3"))
        assert [card.isChecked() for card in _cards(panel)] == [False, True]


def test_a_card_is_read_out_as_a_whole(stage: Stage) -> None:
    with made_panel(stage, "groups") as panel:
        spoken = _cards(panel)[0].accessibleName()
    assert spoken == (
        "Dry sows, 8 pigs, 80 kg each, Top Field 3, day 3 of 5, 5.9 kV on Tuesday, Sat 16 May to Top Field 4, carry 3"
    )


def test_cards_are_lower_in_a_small_window_and_a_line_in_a_narrow_one(stage: Stage) -> None:
    with made_panel(stage, "groups") as panel:
        heights = []
        for name in ("usual", "small", "narrow"):
            stage.fit(Room(name, 292))
            heights.append(_cards(panel)[0].sizeHint().height())
    assert heights[0] > heights[2]
    assert heights[1] > heights[2]


def test_a_closed_group_leaves_on_its_day(stage: Stage) -> None:
    farm = stage.session.farm
    closed = replace(farm.groups["group0"], closed_on=day(3))
    later = replace(farm, groups={**farm.groups, "group0": closed})
    assert [group.uid for group in Book(later).groups(day(2))] == ["group0", "group1"]
    assert [group.uid for group in Book(later).groups(day(3))] == ["group1"]


def test_no_group_is_said(qtbot: QtBot, tmp_path: Path) -> None:
    with made_stage(tmp_path, empty=True) as stage, made_panel(stage, "groups") as panel:
        assert _cards(panel) == []
        assert panel.grab().toImage().height() > 0


@pytest.mark.parametrize(
    ("name", "short"), [("Top Field 12", "12"), ("Orchard", "Orchard"), ("By the oak", "By the oak")]
)
def test_a_paddock_is_called_by_its_number_where_it_has_one(name: str, short: str) -> None:
    assert short_name(name, None) == short


def test_days_are_said_as_a_keeper_says_them(stage: Stage) -> None:
    from pigmap.builtin.panels.group_words import when_words

    assert when_words(stage, TODAY) == "today"
    assert when_words(stage, date(2026, 5, 11)) == "on Monday"
    assert when_words(stage, date(2026, 4, 2)) == "on 2 Apr"
