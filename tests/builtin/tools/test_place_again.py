from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import cast

import pytest
import shapely
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from pigmap.builtin.tools.place import Place
from pigmap.document.edits import add_net_kind, add_nets, move_paddock, place_paddock, record_stay
from pigmap.geometry.rectangle import Rectangle
from pigmap.qt.stage import Picked
from pigmap.records import Paddock, Stay, StayState
from tests.builtin.tools.map_hand import Hand, made_hand
from tests.qt.window_farm import day

OLD = Rectangle(250.0, 28.0, 0.0, 100_000, 50_000)


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path) as made:
        made.look(-40, -60, 440, 140)
        made.stage.session.do(add_nets("fifty", 20)).result()
        made.stage.session.do(place_paddock(OLD, net_kind_uid="fifty", uid="old", name="Old one")).result()
        made.take_up("place")
        made.stage.placing.choose(group_uid="group0", in_on=day(8), snap_side=False, snap_edge=False)
        yield made


def tool(hand: Hand) -> Place:
    return cast("Place", hand.tool)


def paddocks(hand: Hand) -> list[Paddock]:
    return [each for uid, each in hand.stage.session.farm.paddocks.items() if not uid.startswith("group")]


def stays(hand: Hand) -> list[Stay]:
    return [each for uid, each in hand.stage.session.farm.stays.items() if not uid.startswith("group")]


def test_the_old_paddock_under_the_pointer_is_used_again_and_none_is_made(hand: Hand) -> None:
    hand.hover(310, 55)
    hand.key(Qt.Key.Key_A)
    assert shapely.hausdorff_distance(tool(hand).row[0].outline, OLD.outline) < 0.01
    assert (hand.stage.placing.nets_long, hand.stage.placing.nets_wide) == (2, 1)
    hand.key(Qt.Key.Key_Return)
    (stay,) = stays(hand)
    assert (stay.paddock_uid, stay.state, stay.in_on) == ("old", StayState.PLANNED, day(8))
    assert [each.uid for each in paddocks(hand)] == ["old"]
    assert hand.words == "Old one again. Carry 6 nets."
    assert hand.stage.picked == Picked("paddocks", "old")


def test_of_two_that_lie_beside_each_other_the_one_is_meant_that_it_covers_more(hand: Hand) -> None:
    hand.stage.session.do(
        place_paddock(Rectangle(350.0, 28.0, 0.0, 50_000, 50_000), net_kind_uid="fifty", uid="next", name="Next one")
    ).result()
    hand.hover(365, 53)
    hand.key(Qt.Key.Key_A)
    assert tool(hand).row[0].centre[0] == pytest.approx(375, abs=0.1)
    hand.key(Qt.Key.Key_Escape)
    hand.stage.placing.choose(nets_long=1)
    hand.hover(332, 53)
    hand.key(Qt.Key.Key_A)
    assert tool(hand).row[0].centre[0] == pytest.approx(300, abs=0.1)


def test_without_a_pointer_over_one_the_picked_paddock_is_taken(hand: Hand) -> None:
    hand.stage.pick(Picked("paddocks", "old"))
    hand.hover(380, 5)
    hand.key(Qt.Key.Key_A)
    assert shapely.hausdorff_distance(tool(hand).row[0].outline, OLD.outline) < 0.01


def test_for_no_group_a_paddock_is_placed_as_ever(hand: Hand) -> None:
    hand.stage.placing.choose(group_uid="")
    hand.hover(310, 55)
    hand.key(Qt.Key.Key_A)
    hand.key(Qt.Key.Key_Return)
    assert len(paddocks(hand)) == 2
    assert not stays(hand)


def test_other_nets_make_a_paddock_of_its_own(hand: Hand) -> None:
    hand.stage.session.do(add_net_kind("25 m nets", (3572,) * 7, nets=30, uid="short")).result()
    hand.stage.session.do(
        place_paddock(Rectangle(230.0, 30.0, 0.0, 25_004, 25_004), net_kind_uid="short", uid="small", name="Small one")
    ).result()
    hand.hover(242, 42)
    hand.key(Qt.Key.Key_A)
    assert hand.stage.placing.kind_uid == "short"
    assert tool(hand).row[0].long_mm == 25_004


def test_where_there_is_none_it_says_so(hand: Hand) -> None:
    hand.hover(380, 5)
    hand.key(Qt.Key.Key_A)
    assert hand.words == "No paddock is picked, and none was where the ghost is. Go over an old one, or pick it first."


def test_walked_corners_are_placed_again_as_free_corners(hand: Hand) -> None:
    crooked = shapely.Polygon([(360, 30), (410, 30), (400, 75), (365, 70)])
    hand.stage.session.do(place_paddock(crooked, net_kind_uid="fifty", uid="crooked", name="Crooked one")).result()
    hand.hover(385, 50)
    hand.key(Qt.Key.Key_A)
    assert hand.stage.placing.choice.free
    assert len(tool(hand).free.corners.points) == 4
    hand.key(Qt.Key.Key_Return)
    assert [stay.paddock_uid for stay in stays(hand)] == ["crooked"]


def test_ground_that_a_paddock_had_once_is_placed_again_as_it_was(hand: Hand) -> None:
    session = hand.stage.session
    session.do(record_stay("group0", "old", day(-90), day(-85), uid="then")).result()
    session.do(move_paddock("old", 0.0, 12.0)).result()
    hand.hover(310, 66)
    hand.key(Qt.Key.Key_A)
    assert tool(hand).row[0].outline.bounds[1] == pytest.approx(40.0, abs=0.01)  # as it is now, which is used on
    hand.key(Qt.Key.Key_Escape)
    session.do(move_paddock("old", 0.0, -12.0)).result()
    session.do(move_paddock("old", -140.0, 0.0)).result()
    hand.stage.placing.asked.emit("again")
    hand.click(340, 60)
    assert shapely.hausdorff_distance(tool(hand).row[0].outline, OLD.outline) < 0.01
    hand.key(Qt.Key.Key_Return)
    assert [each.name for each in paddocks(hand) if each.uid != "old"] == ["Top Field 15"]
    assert next(each for each in paddocks(hand) if each.uid != "old").outline.equals(OLD.outline)
