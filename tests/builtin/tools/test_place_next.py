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

from pigmap.builtin.tools.place import Place
from pigmap.document.edits import add_nets, place_paddock
from pigmap.qt.buttons import WordButton
from pigmap.records import Paddock
from tests.builtin.tools.map_hand import Hand, made_hand


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path) as made:
        made.look(-40, -60, 440, 140)
        made.stage.session.do(add_nets("fifty", 80)).result()
        made.take_up("place")
        made.stage.placing.choose(group_uid="", in_on=None, snap_side=False, snap_edge=False)
        yield made


def tool(hand: Hand) -> Place:
    return cast("Place", hand.tool)


def placed(hand: Hand) -> list[Paddock]:
    return [each for uid, each in hand.stage.session.farm.paddocks.items() if not uid.startswith("group")]


def word(hand: Hand, name: str) -> WordButton:
    deeds = tool(hand).plate.deeds
    assert deeds is not None
    return deeds.buttons[name]


def test_after_the_button_a_click_fills_a_row_and_a_word_of_the_plate_sets_it(hand: Hand) -> None:
    hand.stage.placing.asked.emit("row")
    assert hand.words == "Click where the row begins. Esc leaves it."
    hand.click(228, 55)
    assert len(tool(hand).row) > 1
    assert not placed(hand)
    assert not word(hand, "set").isHidden()
    word(hand, "row").click()
    hand.settle()
    row = tool(hand).row
    word(hand, "set").click()
    QApplication.processEvents()
    assert len(placed(hand)) == len(row)


def test_after_the_button_a_click_takes_the_old_paddock_there(hand: Hand) -> None:
    old = shapely.box(240, 30, 290, 80)
    hand.stage.session.do(place_paddock(old, net_kind_uid="fifty", uid="old", name="Old one")).result()
    hand.stage.placing.asked.emit("again")
    assert hand.words == "Click the old paddock to place again. Esc leaves it."
    hand.click(244, 34)
    assert shapely.hausdorff_distance(tool(hand).row[0].outline, old) < 0.01


def test_where_no_paddock_was_it_says_so(hand: Hand) -> None:
    hand.stage.placing.asked.emit("again")
    hand.click(350, 20)
    assert hand.words == "No paddock was there. Click an old one, or pick it first."
    assert not placed(hand)


def test_esc_leaves_it(hand: Hand) -> None:
    hand.stage.placing.asked.emit("again")
    hand.key(Qt.Key.Key_Escape)
    hand.click(250, 50)
    assert len(placed(hand)) == 1


def test_a_ghost_that_is_held_says_what_to_do_next(hand: Hand) -> None:
    hand.click(285, 20)
    plate = tool(hand).plate
    assert plate._asked.held == "It is held here. Esc, or a click elsewhere, and it follows you again."
    assert not word(hand, "round").isHidden()
    assert word(hand, "set").isHidden()
    hand.key(Qt.Key.Key_Escape)
    hand.hover(230, 50)
    assert not plate._asked.held
    assert word(hand, "round").isHidden()


def test_a_ghost_that_follows_offers_no_words(hand: Hand) -> None:
    hand.hover(230, 50)
    assert all(word(hand, name).isHidden() for name in ("set", "row", "again", "free"))


def test_words_of_the_plate_are_reached_by_tab(hand: Hand) -> None:
    hand.click(285, 20)
    plate = tool(hand).plate
    at = plate.nextInFocusChain()
    names: list[str] = []
    for _ in range(12):
        if isinstance(at, WordButton) and at.isVisible():
            names.append(at.text())
        at = at.nextInFocusChain() if at is not None else None
    assert {"Go round it", "Place again", "Free corners"} <= set(names)
    QTest.keyClick(word(hand, "free"), Qt.Key.Key_Return)
    assert hand.stage.placing.choice.free


def test_over_what_was_set_just_now_no_ghost_waits_to_be_refused(hand: Hand) -> None:
    hand.click(250, 50)
    assert len(placed(hand)) == 1
    hand.hover(262, 58)
    assert tool(hand).row == ()
    assert tool(hand).plate.isHidden()
    hand.hover(310, 55)
    assert len(tool(hand).row) == 1
    hand.hover(262, 58)
    assert len(tool(hand).row) == 1
