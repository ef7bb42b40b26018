from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import cast

import pytest
import shapely
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.stay_deeds import do_stay_deed
from pigmap.builtin.tools.place import Place
from pigmap.document.edits import add_nets, place_paddock, remove
from pigmap.records import Paddock, Stay
from tests.builtin.tools.map_hand import Hand, made_hand
from tests.qt.window_farm import day

BOX = shapely.box(150, 0, 200, 50)
BAY = 3.572


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path, groups=1) as made:
        made.look(60, -20, 300, 120)
        made.stage.session.do(add_nets("fifty", 20)).result()
        made.stage.session.do(remove("stays", "group0s3")).result()
        planned = place_paddock(
            BOX,
            net_kind_uid="fifty",
            uid="next",
            name="Next one",
            group_uid="group0",
            in_on=day(3),
            out_on=day(7),
            stay_uid="coming",
        )
        made.stage.session.do(planned).result()
        do_stay_deed(made.stage, "corners", "coming")
        made.settle()
        yield made


def tool(hand: Hand) -> Place:
    return cast("Place", hand.tool)


def paddock(hand: Hand) -> Paddock:
    return hand.stage.session.farm.paddocks["next"]


def stay(hand: Hand) -> Stay:
    return hand.stage.session.farm.stays["coming"]


def test_its_corners_are_there_with_its_figures_and_it_is_not_in_its_own_way(hand: Hand) -> None:
    assert hand.stage.verb == "place"
    assert len(tool(hand).free.corners.points) == 4
    words = tool(hand).plate.words
    assert words is not None
    assert (words.head, words.against) == ("Carry 3 nets, leave 1", "")


def test_a_dragged_corner_falls_on_a_post_and_enter_sets_it_with_the_stay(hand: Hand) -> None:
    hand.drag((200, 50), (214, 51))
    hand.key(Qt.Key.Key_Return)
    hand.settle()
    corners = shapely.get_coordinates(paddock(hand).outline)
    assert corners[:, 0].max() == pytest.approx(214, abs=2 * BAY)
    assert stay(hand).ground.equals(paddock(hand).outline)
    assert (stay(hand).in_on, stay(hand).out_on) == (day(3), day(7))
    assert hand.words.startswith("Next one reshaped. Carry ")
    assert hand.stage.verb == "pick"
    assert not hand.stage.placing.choice.reshape_uid
    hand.stage.session.undo().result()
    assert paddock(hand).outline.equals(BOX)


def test_a_side_is_pulled_out_by_its_middle(hand: Hand) -> None:
    hand.drag((200, 25), (216, 25))
    assert len(tool(hand).free.corners.points) == 5
    hand.key(Qt.Key.Key_Return)
    hand.settle()
    assert paddock(hand).outline.area > BOX.area + 100


def test_esc_leaves_it_as_it_was_and_free_corners_stay_off(hand: Hand) -> None:
    hand.drag((200, 50), (214, 51))
    hand.stage.take_up("pick")
    hand.settle()
    assert paddock(hand).outline.equals(BOX)
    hand.take_up("place")
    assert not hand.stage.placing.choice.by_corners
    hand.hover(230, 60)
    assert len(tool(hand).row) == 1


def test_a_corner_in_the_overhead_line_is_refused_and_can_be_put_right(hand: Hand) -> None:
    hand.drag((200, 50), (200, 88))
    hand.key(Qt.Key.Key_Return)
    assert paddock(hand).outline.equals(BOX)
    words = tool(hand).plate.words
    assert words is not None
    assert words.against
    assert not words.overridable


def test_a_reason_is_kept_with_the_planned_stay(hand: Hand) -> None:
    hand.look(100, -60, 340, 80)
    hand.drag((200, 0), (203, -45))
    hand.key(Qt.Key.Key_Return)
    hand.key(Qt.Key.Key_O)
    plate = tool(hand).plate
    assert plate.asking
    QTest.keyClicks(plate._foot.line, "agreed next door")
    QTest.keyClick(plate._foot.line, Qt.Key.Key_Return)
    QApplication.processEvents()
    hand.settle()
    assert stay(hand).why_planned == "agreed next door"
    assert not paddock(hand).outline.equals(BOX)


def test_corners_of_a_new_paddock_wait_meanwhile(hand: Hand) -> None:
    hand.take_up("pick")
    hand.take_up("place")
    hand.stage.placing.choose(free=True)
    hand.click(230, 20)
    hand.click(260, 20)
    waiting = list(tool(hand).free.corners.points)
    do_stay_deed(hand.stage, "corners", "coming")
    hand.settle()
    assert len(tool(hand).free.corners.points) == 4
    hand.stage.placing.choose(reshape_uid="")
    assert tool(hand).free.corners.points == waiting
