from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import shapely
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.tools.here import QUIET_MS
from pigmap.builtin.tools.here_plate import HerePlate
from pigmap.qt.stage import Picked
from tests.builtin.tools.map_hand import SHIFT, Hand, made_hand

STANDS = shapely.box(100, 0, 150, 50)
NEXT = shapely.box(150, 0, 200, 50)


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path) as made:
        made.look(60, -40, 260, 90)
        made.stage.pick(Picked("paddocks", "group0p2"))
        made.take_up("here")
        yield made


def plate(hand: Hand) -> HerePlate:
    (found,) = (each for each in hand.map.findChildren(HerePlate) if not each.isHidden())
    return found


def notes(hand: Hand) -> str:
    """Wait until it stood still for a moment, and return what is then said to come of it."""
    QTest.qWait(QUIET_MS + 50)
    return plate(hand)._notes.text()


def ground(hand: Hand, uid: str) -> shapely.Polygon:
    return hand.stage.session.farm.paddocks[uid].outline


def off(outline: shapely.Polygon, was: shapely.Polygon) -> tuple[float, float]:
    return outline.bounds[0] - was.bounds[0], outline.bounds[1] - was.bounds[1]


def test_dragging_it_and_enter_puts_it_there_and_the_planned_row_follows(hand: Hand) -> None:
    hand.drag((125, 25), (133, 20))
    assert ground(hand, "group0p2").equals(STANDS)
    hand.key(Qt.Key.Key_Return)
    assert off(ground(hand, "group0p2"), STANDS) == pytest.approx((8, -5), abs=0.6)
    assert off(ground(hand, "group0p3"), NEXT) == pytest.approx(off(ground(hand, "group0p2"), STANDS))
    assert hand.words.startswith("Top Field 3 stands here; 1 planned paddock follows.")
    assert hand.said[-1].deed == "undo"
    assert (hand.stage.verb, hand.stage.picked) == ("pick", Picked("paddocks", "group0p2"))


def test_what_is_over_and_other_pigs_stay(hand: Hand) -> None:
    before = hand.stage.session.farm
    hand.drag((125, 25), (133, 20))
    hand.key(Qt.Key.Key_Return)
    after = hand.stage.session.farm
    for uid in ("group0p0", "group0p1", "group1p2", "group1p3"):
        assert after.paddocks[uid] == before.paddocks[uid]
    assert after.stays["group0s1"] == before.stays["group0s1"]


def test_one_undo_takes_all_of_it_back(hand: Hand) -> None:
    before = hand.stage.session.farm
    hand.drag((125, 25), (133, 20))
    hand.key(Qt.Key.Key_Return)
    hand.stage.session.undo().result()
    after = hand.stage.session.farm
    assert (after.paddocks, after.stays, after.net_uses) == (before.paddocks, before.stays, before.net_uses)


def test_a_corner_is_dragged_alone_and_the_row_turns_with_the_side(hand: Hand) -> None:
    hand.drag((150, 0), (156, 0))
    assert "a corner " in plate(hand)._moved.text()
    assert plate(hand)._follows.text() == "Top Field 4, planned next, follows."
    hand.key(Qt.Key.Key_Return)
    stands, follows = ground(hand, "group0p2"), ground(hand, "group0p3")
    assert stands.area > STANDS.area + 100
    assert follows.area == pytest.approx(2500)
    assert stands.exterior.intersection(follows.exterior.buffer(0.01)).length == pytest.approx(50, abs=1)


def test_arrows_step_by_a_post_and_with_shift_by_a_metre(hand: Hand) -> None:
    hand.key(Qt.Key.Key_Right)
    hand.key(Qt.Key.Key_Up, SHIFT)
    hand.key(Qt.Key.Key_Return)
    assert off(ground(hand, "group0p2"), STANDS) == pytest.approx((3.572, 1.0))


def test_n_picks_a_corner_that_the_arrows_then_step(hand: Hand) -> None:
    hand.key(Qt.Key.Key_N)
    assert "this corner" in plate(hand)._hint.text()
    hand.key(Qt.Key.Key_Left, SHIFT)
    hand.key(Qt.Key.Key_Return)
    moved = [corner for corner in ground(hand, "group0p2").exterior.coords[:-1] if corner not in STANDS.exterior.coords]
    assert len(moved) == 1


def test_n_comes_back_to_the_whole_after_the_last_corner(hand: Hand) -> None:
    for _ in range(5):
        hand.key(Qt.Key.Key_N)
    hand.type("3 east")
    hand.key(Qt.Key.Key_Return)
    assert ground(hand, "group0p2").equals(shapely.box(103, 0, 153, 50))


def test_a_distance_is_typed_and_what_is_none_is_said(hand: Hand) -> None:
    hand.type("somewhere")
    assert hand.words.startswith("somewhere does not say how far and which way. Type 3 east")
    hand.key(Qt.Key.Key_Escape)
    hand.type("2 at 180")
    assert plate(hand)._moved.text() == "2.0 m south"


def test_q_turns_it_and_the_row_with_it(hand: Hand) -> None:
    hand.key(Qt.Key.Key_Q)
    assert "turned 5° to the left" in plate(hand)._moved.text()
    hand.key(Qt.Key.Key_Return)
    assert ground(hand, "group0p3").area == pytest.approx(2500)
    shared = ground(hand, "group0p3").exterior.intersection(ground(hand, "group0p2").exterior.buffer(1e-6))
    assert shared.length == pytest.approx(50, abs=0.01)


def test_backspace_takes_the_last_step_back_and_esc_all_of_them_before_it_leaves(hand: Hand) -> None:
    hand.type("3 east")
    hand.type("3 north")
    hand.key(Qt.Key.Key_Backspace)
    assert plate(hand)._moved.text() == "3.0 m east"
    hand.key(Qt.Key.Key_Escape)
    assert plate(hand)._moved.text() == ""
    assert hand.stage.verb == "here"


def test_what_was_moved_and_not_set_is_said_and_goes_on_later(hand: Hand) -> None:
    hand.type("3 east")
    hand.take_up("measure")
    assert hand.words == "Top Field 3 is not set yet where you put it."
    assert hand.said[-1].deed == "here"
    hand.take_up("here")
    assert plate(hand)._moved.text() == "3.0 m east"
    hand.key(Qt.Key.Key_Return)
    assert ground(hand, "group0p2").equals(shapely.box(103, 0, 153, 50))


def test_what_comes_of_it_is_flagged_and_refuses_nothing(hand: Hand) -> None:
    hand.type("40 north")
    assert "Dry sows" in notes(hand)
    assert "Weaners" in notes(hand)
    hand.key(Qt.Key.Key_Return)
    assert ground(hand, "group0p2").equals(shapely.box(100, 40, 150, 90))
    assert hand.said[-1].kind == "care"
    assert "Weaners" in hand.words


def test_nets_that_do_not_reach_round_are_said(hand: Hand) -> None:
    hand.drag((150, 0), (172, -30))
    assert "Its nets (4 of 50 m) reach 200 m; this goes round 2" in notes(hand)
    assert "One more net, or look at the corners again." in notes(hand)


def test_sides_that_cross_are_said_and_nothing_is_lost(hand: Hand) -> None:
    hand.drag((150, 0), (125, 80))
    hand.key(Qt.Key.Key_Return)
    assert hand.words.startswith("The sides of Top Field 3 would cross")
    assert "go round it once" in hand.words
    assert ground(hand, "group0p2").equals(STANDS)
    hand.key(Qt.Key.Key_Backspace)
    hand.type("1 east")
    hand.key(Qt.Key.Key_Return)
    assert ground(hand, "group0p2").equals(shapely.box(101, 0, 151, 50))


def test_a_click_takes_another_paddock_with_pigs_in_it(hand: Hand) -> None:
    hand.click(125, 75)
    assert hand.stage.picked == Picked("paddocks", "group1p2")
    hand.type("1 east")
    hand.key(Qt.Key.Key_Return)
    assert ground(hand, "group1p2").equals(shapely.box(101, 50, 151, 100))


def test_the_group_that_is_picked_is_meant_and_a_planned_paddock_is_not(hand: Hand) -> None:
    hand.take_up("pick")
    hand.stage.pick(Picked("groups", "group1"))
    hand.take_up("here")
    assert plate(hand)._heading.text() == "Where does Top Field 13 really stand?"
    hand.take_up("pick")
    hand.stage.pick(Picked("paddocks", "group0p3"))
    hand.take_up("here")
    assert plate(hand)._hint.text() == "Click a paddock with pigs in it."


def test_enter_without_a_change_says_what_to_do(hand: Hand) -> None:
    hand.key(Qt.Key.Key_Return)
    assert hand.words == "Top Field 3 stands where it is drawn. Drag it, or one of its corners."


def test_the_buttons_do_what_the_keys_do(hand: Hand) -> None:
    hand.type("3 east")
    plate(hand)._drop.click()
    assert plate(hand)._moved.text() == ""
    hand.type("3 east")
    plate(hand)._settle.click()
    hand.settle()
    assert ground(hand, "group0p2").equals(shapely.box(103, 0, 153, 50))


def test_the_map_has_the_keys_and_tab_goes_from_it_through_the_plate(hand: Hand) -> None:
    its = plate(hand)
    hand.type("3 east")
    assert hand.map.hasFocus()
    seen = []
    for _ in [its._settle, its._drop]:
        here = QApplication.focusWidget()
        assert here is not None
        QTest.keyClick(here, Qt.Key.Key_Tab)
        seen.append(QApplication.focusWidget())
    assert seen == [its._settle, its._drop]
    assert all(each is not None and each.accessibleName() for each in seen)


def test_a_corner_is_pulled_out_of_the_middle_of_a_side_that_is_long_enough(hand: Hand) -> None:
    hand.drag((125, 0), (125, -8))
    assert plate(hand)._moved.text() == "with 5 corners"


def test_a_drag_at_the_middle_of_a_short_side_moves_the_whole(hand: Hand) -> None:
    hand.look(-400, -300, 800, 450)
    hand.drag((125, 1), (155, 1))
    assert plate(hand)._moved.text().endswith("m east")
    assert "corner" not in plate(hand)._moved.text()


def test_what_came_of_it_is_said_no_more_once_it_is_as_it_was(hand: Hand) -> None:
    hand.type("40 north")
    assert notes(hand)
    hand.key(Qt.Key.Key_Backspace)
    assert plate(hand)._notes.text() == ""
    assert notes(hand) == ""
