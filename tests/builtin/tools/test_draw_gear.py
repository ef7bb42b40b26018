from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import shapely
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.other_facts import card_of
from pigmap.builtin.tools.drawn_gear import gear_edit
from pigmap.builtin.tools.drawn_what import OtherLine
from pigmap.document.edits import record_escape
from pigmap.drawing.gear import escape_layers, gear_layers
from pigmap.drawing.layer import Marks
from pigmap.errors import EditError
from pigmap.qt.signs import SIGNS
from pigmap.qt.stage import Picked
from pigmap.records import GearKind, GearPlace, StayState, lasting_on
from tests.builtin.tools.map_hand import Hand, made_hand


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path) as made:
        made.look(-50, -50, 450, 300)
        made.take_up("draw")
        yield made


def standing(hand: Hand) -> shapely.Polygon:
    farm, stage = hand.stage.session.farm, hand.stage
    here = (each for each in lasting_on(farm, stage.today).values() if each.covers(stage.day))
    return next(each.stay.ground for each in here if each.stay.state is StayState.RUNNING)


def gear(hand: Hand) -> list[GearPlace]:
    return list(hand.stage.session.farm.gear_places.values())


def set_down(hand: Hand, kind: GearKind, east: float, north: float) -> GearPlace:
    hand.map.setFocus()
    hand.key(Qt.Key.Key_G)
    hand.tool._plate.choose_what(kind)
    before = {each.uid for each in gear(hand)}
    hand.click(east, north)
    return next(each for each in gear(hand) if each.uid not in before)


def test_a_click_sets_gear_of_the_pigs_that_are_there_from_the_first_day_of_their_stay(hand: Hand) -> None:
    spot = standing(hand).centroid
    row = set_down(hand, GearKind.SHADE, spot.x, spot.y)
    stay = hand.stage.session.farm.stays[row.stay_uid or ""]
    assert (row.kind, row.group_uid, row.set_on) == (GearKind.SHADE, stay.group_uid, stay.in_on)
    assert row.point.distance(spot) < 1.0
    assert hand.words.startswith("Shade stands there since ")
    assert hand.stage.picked == Picked("gear_places", row.uid)
    (layer,) = gear_layers(hand.stage.session.farm, hand.stage.day, hand.stage.today)
    assert isinstance(layer, Marks)
    assert layer.sign == "shade"
    hand.stage.session.undo().result()
    assert not gear(hand)


def test_gear_is_typed_and_stepped_as_corners_are(hand: Hand) -> None:
    spot = standing(hand).centroid
    row = set_down(hand, GearKind.HUT, spot.x, spot.y)
    hand.map.setFocus()
    hand.key(Qt.Key.Key_E)
    hand.key(Qt.Key.Key_Right)
    hand.key(Qt.Key.Key_Return)
    hand.settle()
    (moved,) = gear(hand)
    assert moved.uid == row.uid
    assert moved.point.x == pytest.approx(row.point.x + 1.0, abs=0.01)


def test_enter_sets_gear_in_the_middle_of_the_map_without_a_mouse(hand: Hand) -> None:
    west, south, east, north = standing(hand).bounds
    hand.look(west, south, east, north)
    hand.stage.pick(None)
    hand.map.setFocus()
    hand.key(Qt.Key.Key_G)
    hand.tool._plate.choose_what(GearKind.FEEDER)
    QTest.keyClick(hand.map, Qt.Key.Key_Return)
    hand.settle()
    (row,) = gear(hand)
    assert row.point.distance(standing(hand).centroid) < 3.0


def test_where_no_pigs_are_gear_is_refused_in_words(hand: Hand) -> None:
    with pytest.raises(EditError, match=r"No pigs are there on .*: nobody knows whose gear it is") as refused:
        gear_edit(hand.stage.session.farm, hand.stage.day, GearKind.HUT, -4000.0, -4000.0, hand.stage.today)
    assert str(refused.value.remedy) == "Click in the paddock of a group, or show a day on which one is there."
    hand.key(Qt.Key.Key_G)
    hand.click(440.0, 290.0)
    assert not gear(hand)
    assert hand.words.startswith("No pigs are there on ")


def test_the_card_of_gear_says_what_follows_for_the_dung(hand: Hand) -> None:
    spot = standing(hand).centroid
    row = set_down(hand, GearKind.HUT, spot.x - 10, spot.y)
    card = card_of(hand.stage, Picked("gear_places", row.uid))
    assert card is not None
    assert [fact.figure for fact in card.facts if fact.label == "Dung"] == ["evenly spread"]
    set_down(hand, GearKind.SHADE, spot.x + 10, spot.y)
    card = card_of(hand.stage, Picked("gear_places", row.uid))
    assert card is not None
    assert card.title.startswith("Hut of ")
    (dung,) = [fact for fact in card.facts if fact.label == "Dung"]
    assert dung.figure == "49 % on 15 % of the ground"
    assert dung.why is not None
    assert "3.3 times the even load there, 0.6 times elsewhere" in str(dung.why)
    assert [deed.name for deed in card.deeds] == ["remove"]


def test_every_kind_of_gear_and_the_place_of_an_escape_have_a_sign() -> None:
    assert {*map(str, GearKind), "got out"} <= set(SIGNS)


def test_a_flow_line_is_drawn_as_other_lines_are(hand: Hand) -> None:
    hand.key(Qt.Key.Key_L)
    hand.tool._plate.choose_what(OtherLine.FLOW)
    for corner in ((20.0, 150.0), (120.0, 160.0), (180.0, 230.0)):
        hand.click(*corner)
    hand.key(Qt.Key.Key_Return)
    (line,) = hand.stage.session.farm.flow_lines.values()
    assert len(line.line.coords) == 3
    assert hand.words == "Flow line added."
    card = card_of(hand.stage, Picked("flow_lines", line.uid))
    assert card is not None
    assert card.second == "flow line: water runs there in hard rain"
    assert [deed.name for deed in card.deeds] == ["rename", "remove"]


def test_where_pigs_got_out_is_shown_for_a_year_and_picked_and_moved(hand: Hand) -> None:
    stage = hand.stage
    group = next(iter(stage.session.farm.groups))
    stage.session.do(record_escape(group, stage.day, point=shapely.Point(60.0, 60.0), uid="out")).result()
    hand.settle()
    (layer,) = escape_layers(stage.session.farm, stage.day)
    assert isinstance(layer, Marks)
    assert layer.points.tolist() == [[60.0, 60.0]]
    assert escape_layers(stage.session.farm, stage.day.replace(year=stage.day.year + 2)) == ()
    hand.take_up("pick")
    hand.click(60.0, 60.0)
    assert stage.picked == Picked("escapes", "out")
    hand.take_up("draw")
    hand.drag((60.0, 60.0), (90.0, 60.0))
    point = stage.session.farm.escapes["out"].point
    assert point is not None
    assert point.x == pytest.approx(90.0, abs=1.0)


def test_a_place_is_shown_for_a_form_by_a_click_or_by_enter_and_esc_leaves_it(hand: Hand) -> None:
    shown: list[tuple[float, float]] = []
    hand.stage.spotted.connect(lambda east, north: shown.append((east, north)))
    hand.take_up("spot")
    assert hand.words.startswith("Click where it was.")
    hand.click(60.0, 60.0)
    assert hand.stage.verb == "pick"
    assert shown[0] == pytest.approx((60.0, 60.0), abs=1.0)
    hand.take_up("spot")
    hand.map.setFocus()
    QTest.keyClick(hand.map, Qt.Key.Key_Return)
    assert len(shown) == 2
    assert hand.stage.verb == "pick"
