from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import shapely
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.paddock_facts import paddock_card
from pigmap.builtin.panels.stay_deeds import do_stay_deed
from pigmap.document.edits import place_paddock
from pigmap.qt.stage import Stage
from tests.qt.window_farm import day, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        for uid, at, first, last in (("a", 240, 20, 24), ("b", 300, 24, 29)):
            edit = place_paddock(
                shapely.box(at, 30, at + 50, 80),
                net_kind_uid="fifty",
                uid=uid,
                name=f"Top Field 2{at // 300}",
                group_uid="group0",
                in_on=day(first),
                out_on=day(last),
                stay_uid=f"in_{uid}",
            )
            made.session.do(edit).result()
        yield made


def words(stage: Stage, paddock: str, stay: str) -> list[str]:
    farm = stage.session.farm
    return [deed.words for deed in paddock_card(stage, farm.paddocks[paddock], farm.stays[stay]).deeds]


def test_a_planned_stay_offers_to_split_to_move_corners_and_to_swap_with_the_next(stage: Stage) -> None:
    assert words(stage, "a", "in_a")[2:5] == ["Split in two", "Its corners", "Swap with 21"]
    assert "Swap with 20" in words(stage, "b", "in_b")  # the last one swaps with the one before


def test_a_running_stay_offers_none_of_them(stage: Stage) -> None:
    offered = words(stage, "group0p2", "group0s2")
    assert not {"Split in two", "Its corners"} & set(offered)
    assert not any(each.startswith("Swap") for each in offered)


def test_the_button_swaps_the_grounds_and_says_which_comes_first(stage: Stage) -> None:
    before = stage.session.farm
    do_stay_deed(stage, "swap", "in_a")
    after = stage.session.farm
    assert (after.stays["in_a"].paddock_uid, after.stays["in_b"].paddock_uid) == ("b", "a")
    assert after.stays["in_a"].in_on == before.stays["in_a"].in_on
    assert stage.words(stage.notices[-1].text) == "First Top Field 21, then Top Field 20."


def test_the_button_for_corners_takes_up_placing_with_its_days_and_nets(stage: Stage) -> None:
    do_stay_deed(stage, "corners", "in_b")
    choice = stage.placing.choice
    assert stage.verb == "place"
    assert (choice.reshape_uid, choice.group_uid, choice.in_on, choice.kind_uid) == ("b", "group0", day(24), "fifty")
    assert not choice.free


def test_a_stay_that_went_meanwhile_is_no_matter(stage: Stage) -> None:
    before = stage.session.farm
    do_stay_deed(stage, "swap", "gone")
    assert stage.session.farm is before
