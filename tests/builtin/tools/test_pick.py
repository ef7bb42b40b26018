from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
import shapely
from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.tools.story_line import StoryLine
from pigmap.builtin.tools.under_pointer import things_under
from pigmap.document.edits import Before, tell_before_of_field
from pigmap.drawing.tokens import BARE, UNKNOWN
from pigmap.qt.ground_spot import GroundSpot
from pigmap.qt.photo_looked_at import PhotoLookedAt
from pigmap.qt.stage import Picked
from pigmap.records import Edit, GroundJobKind, Photo, Record, add
from pigmap.text import Text
from tests.builtin.tools.map_hand import Hand, made_hand
from tests.qt.window_farm import TODAY


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path) as made:
        yield made


@pytest.mark.parametrize(
    ("x", "y", "picked"),
    [
        (125, 25, Picked("stays", "group0s2")),
        (175, 75, Picked("stays", "group1s3")),
        (25, 25, Picked("paddocks", "group0p0")),
        (310, 0, Picked("keep_outs", "pond")),
        (350, 50, Picked("fields", "field")),
        (-10, -10, Picked("places", "tap")),
    ],
    ids=["running stay", "planned stay", "paddock of the past", "keep-out", "field", "place"],
)
def test_a_click_picks_what_is_meant(hand: Hand, x: float, y: float, picked: Picked) -> None:
    hand.click(x, y)
    assert hand.stage.picked == picked


def test_a_second_click_on_the_spot_picks_what_lies_under_it(hand: Hand) -> None:
    hand.click(125, 25)
    found = [hand.stage.picked]
    for _ in range(3):
        hand.click(125, 25)
        found.append(hand.stage.picked)
    assert found == [
        Picked("stays", "group0s2"),
        Picked("paddocks", "group0p2"),
        Picked("fields", "field"),
        Picked("stays", "group0s2"),
    ]


def test_a_click_beside_everything_picks_nothing(hand: Hand) -> None:
    hand.click(125, 25)
    hand.look(-200, -200, 500, 300)
    hand.click(-150, -150)
    assert hand.stage.picked is None


def test_dragging_moves_the_map_and_picks_nothing(hand: Hand) -> None:
    before = hand.map.view.centre_x_m
    hand.drag((125, 25), (175, 25))
    assert hand.stage.picked is None
    assert hand.map.view.centre_x_m == pytest.approx(before - 50, abs=1.0)


def test_delete_removes_what_is_picked_and_undo_brings_it_back(hand: Hand) -> None:
    hand.click(310, 0)
    hand.key(Qt.Key.Key_Delete)
    assert "pond" not in hand.stage.session.farm.keep_outs
    assert hand.stage.picked is None
    assert hand.words == "Duck pond removed."
    assert hand.said[-1].deed == "undo"
    hand.stage.session.undo().result()
    assert "pond" in hand.stage.session.farm.keep_outs


def test_what_recorded_facts_hang_on_is_not_removed(hand: Hand) -> None:
    hand.stage.pick(Picked("paddocks", "group0p0"))
    hand.key(Qt.Key.Key_Delete)
    assert "group0p0" in hand.stage.session.farm.paddocks
    assert hand.words.startswith("Top Field 1 has 1 recorded stay: it would be lost.")
    assert hand.said[-1].kind == "refused"


def test_delete_with_nothing_picked_does_nothing(hand: Hand) -> None:
    before = hand.stage.session.farm
    hand.key(Qt.Key.Key_Delete)
    assert hand.stage.session.farm is before


def test_stays_that_are_over_are_not_picked_by_their_ground(hand: Hand) -> None:
    rows: dict[str, Record] = dict(hand.stage.session.farm.stays)
    found = things_under(hand.stage.session.farm, TODAY, 25, 25, 1.0)
    assert all(each.table != "stays" for each in found)
    assert "group0s0" in rows


def test_the_key_is_told_what_the_ground_under_the_pointer_is_shown_as(hand: Hand) -> None:
    told: list[GroundSpot | None] = []
    hand.stage.session.ground.settle()
    hand.stage.pointed_at.connect(told.append)
    hand.hover(125, 25)  # pigs are there: rest 0, the first step
    hand.hover(126, 26)
    hand.hover(350, 50)  # nothing is known of it
    hand.stage.session.do(tell_before_of_field("field", Before(kind=GroundJobKind.NEVER_USED))).result()
    hand.settle()
    hand.hover(351, 51)
    hand.hover(-40, -40)  # off the field
    assert [spot.step if spot else None for spot in told] == [0, UNKNOWN, BARE, None]


def line(hand: Hand) -> StoryLine:
    return hand.map.findChildren(StoryLine)[-1]


def test_the_ground_under_the_pointer_tells_its_story_in_one_line(hand: Hand) -> None:
    hand.hover(25, 25)
    assert line(hand).isVisible()
    assert line(hand).words == (
        "Top Field 1: rested 7 days; a quarter rooted, computed; pigs once, in 2026; ready about 5 Jul"
    )
    hand.hover(125, 25)
    assert line(hand).words == "Top Field 3: pigs on it; a quarter rooted, seen 12 May; pigs once, in 2026"
    hand.hover(350, 50)
    assert line(hand).words == "Top Field: not known what was before"
    hand.stage.session.do(tell_before_of_field("field", Before(kind=GroundJobKind.NEVER_USED))).result()
    hand.hover(351, 50)
    assert line(hand).words == "Top Field: never used"


def test_the_line_follows_the_day_and_counts_pigs_up_to_it(hand: Hand) -> None:
    hand.hover(25, 25)
    hand.stage.show_day(TODAY + timedelta(days=100))
    assert line(hand).words.startswith("Top Field 1: rested 107 days; ")
    assert line(hand).words.endswith("; ready now")
    hand.stage.show_day(TODAY - timedelta(days=20))
    assert line(hand).words == "Top Field 1: not known what was before"


def test_ground_that_pigs_came_back_to_says_how_often(hand: Hand) -> None:
    stay = hand.stage.session.farm.stays["group0s0"]
    before = replace(stay, uid="earlier", in_on=TODAY - timedelta(days=500), out_on=TODAY - timedelta(days=495))
    hand.stage.session.do(Edit(Text("Made for a test."), lambda farm: [add(before)])).result()
    hand.hover(25, 25)
    assert "pigs 2 times since 2024" in line(hand).words


def test_the_line_goes_with_the_pointer_and_with_the_verb(hand: Hand) -> None:
    hand.hover(25, 25)
    its = line(hand)
    QApplication.sendEvent(hand.map, QEvent(QEvent.Type.Leave))
    assert not its.isVisible()
    hand.hover(26, 25)
    assert its.isVisible()
    hand.hover(-40, -40)
    assert not its.isVisible()
    hand.hover(25, 25)
    hand.take_up("measure")
    assert not its.isVisible()


def test_the_line_takes_no_click_and_lies_clear_of_the_scale(hand: Hand) -> None:
    hand.hover(25, 25)
    its = line(hand)
    assert its.testAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
    assert its.geometry().right() < hand.map.width() - 180


def test_a_click_on_the_sign_of_a_photo_shows_the_photo_and_picks_nothing_else(hand: Hand) -> None:
    stage, asked = hand.stage, list[str]()
    stage.plate_asked.connect(asked.append)
    photo = Photo(uid="photo", sha256="ab", width_px=1, height_px=1, point=shapely.Point(350, 50), taken_on=stage.day)
    stage.session.do(Edit(Text("Photo"), lambda _: [add(photo)])).result()
    hand.click(350, 50)
    assert asked == ["photos"]
    assert stage.beside(PhotoLookedAt).uid == "photo"
    assert stage.picked is None
