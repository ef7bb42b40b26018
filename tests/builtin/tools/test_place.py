from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import cast

import pytest
import shapely
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.tools.place import Place
from pigmap.builtin.tools.plate_spot import SHADOW_PX
from pigmap.document.edits import add_net_kind, add_nets, add_way, remove
from pigmap.drawing.layer import Marks, Outlines
from pigmap.qt.canvas import MapView
from pigmap.qt.following import follow
from pigmap.qt.jobs import Poster
from pigmap.qt.starting import stage_for
from pigmap.records import Paddock, Stay, StayState, WayKind
from pigmap.session import Session
from tests.builtin.tools.map_hand import SHIFT, Hand, made_hand
from tests.qt.window_farm import PARTS, TODAY, day, drop, make_session

SIDE = 50.0
"""Side of a paddock of one 50 m net: 13 bays of 3.572 m and one of 3.564 m."""

READY = ["the pond is dry", "the pond has a fence of its own", "seen on the spot, it fits"]


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path) as made:
        made.look(-40, -60, 440, 140)
        made.stage.session.do(add_nets("fifty", 20)).result()
        made.take_up("place")
        made.stage.placing.choose(group_uid="", in_on=None)
        yield made


def tool(hand: Hand) -> Place:
    return cast("Place", hand.tool)


def placed(hand: Hand) -> list[Paddock]:
    paddocks = hand.stage.session.farm.paddocks
    return [each for uid, each in paddocks.items() if not uid.startswith("group")]


def stays(hand: Hand) -> list[Stay]:
    return [each for uid, each in hand.stage.session.farm.stays.items() if not uid.startswith("group")]


def is_refused(hand: Hand) -> bool:
    return any(isinstance(layer, Outlines) and layer.hatch is not None for layer in hand.map.preview_layers)


def test_the_ghost_follows_the_pointer_and_a_click_sets_it(hand: Hand) -> None:
    hand.stage.placing.choose(snap_side=False, snap_edge=False, snap_fence=False)
    hand.click(250, 50)
    (paddock,) = placed(hand)
    assert paddock.outline.area == pytest.approx(SIDE**2)
    assert paddock.outline.centroid.x == pytest.approx(250, abs=0.6)
    assert (paddock.nets_long, paddock.nets_wide, paddock.net_kind_uid) == (1, 1, "fifty")
    assert paddock.field_uid == "field"
    assert hand.words == "Top Field 15 placed. Carry 4 nets."


def test_it_rests_flush_on_a_side_that_stands_and_shares_it(qtbot: QtBot, tmp_path: Path) -> None:
    with made_hand(tmp_path, groups=1) as hand:
        hand.stage.session.do(remove("stays", "group0s3")).result()
        hand.take_up("place")
        hand.stage.placing.choose(group_uid="", in_on=None)
        hand.hover(176, 28)
        (ghost,) = tool(hand).row
        beside = shapely.box(150, 0, 200, 50).normalize()
        assert shapely.equals_exact(ghost.outline.normalize(), beside, 0.01)
        words = tool(hand).plate.words
        assert words is not None
        assert words.head == "Carry 3 nets, leave 1"
        assert any(isinstance(layer, Marks) and layer.sign == "link" for layer in hand.map.preview_layers)


def test_for_a_group_it_plans_the_stay_in_the_same_edit(hand: Hand) -> None:
    hand.stage.placing.choose(group_uid="group0", in_on=day(8), snap_side=False, snap_edge=False)
    hand.click(250, 55)
    (stay,) = stays(hand)
    assert stay.state is StayState.PLANNED
    assert stay.in_on == day(8)
    hand.stage.session.undo().result()
    assert not placed(hand)
    assert not stays(hand)


def test_dragging_on_lays_a_row_as_one_edit(hand: Hand) -> None:
    hand.stage.placing.choose(snap_side=False, snap_edge=False)
    hand.drag((230, 55), (345, 55))
    row = placed(hand)
    assert len(row) == 3
    assert row[0].outline.distance(row[1].outline) == pytest.approx(0, abs=1e-6)
    assert hand.words == "A row of 3 paddocks laid."
    hand.stage.session.undo().result()
    assert not placed(hand)


def test_a_row_says_what_each_of_its_paddocks_takes(hand: Hand) -> None:
    hand.stage.placing.choose(snap_side=False, snap_edge=False)
    hand.hover(230, 55)
    tool(hand).press(hand.map.gestures.pointer(hand.spot(230, 55).toPointF(), Qt.KeyboardModifier.NoModifier))
    tool(hand).drag(hand.map.gestures.pointer(hand.spot(345, 55).toPointF(), Qt.KeyboardModifier.NoModifier))
    tool(hand).judge_now()
    words = tool(hand).plate.words
    assert words is not None
    assert words.head == "3 paddocks, 10 nets in all"
    assert words.nets[:2] == ("Carry", "4, 3, 3")


def test_what_does_not_fit_is_not_set_and_says_the_remedy(hand: Hand) -> None:
    hand.stage.placing.choose(snap_side=False, snap_edge=False)
    hand.click(285, 20)
    assert not placed(hand)
    assert is_refused(hand)
    words = tool(hand).plate.words
    assert words is not None
    assert words.against.startswith("The east side touches")
    assert words.remedy.startswith("Set it ")
    assert words.overridable


def test_a_reason_sets_it_all_the_same_and_is_kept(hand: Hand) -> None:
    hand.stage.placing.choose(group_uid="group0", in_on=day(8), snap_side=False, snap_edge=False)
    hand.click(285, 20)
    hand.key(Qt.Key.Key_O)
    line = tool(hand).plate._foot.line
    assert tool(hand).plate.asking
    QTest.keyClicks(line, "The pond is dry")
    QTest.keyClick(line, Qt.Key.Key_Return)
    QApplication.processEvents()
    assert len(placed(hand)) == 1
    assert stays(hand)[0].why_planned == "The pond is dry"


def test_a_ready_reason_is_reached_by_tab_and_taken_by_one_press(hand: Hand) -> None:
    hand.stage.placing.choose(group_uid="group0", in_on=day(8), snap_side=False, snap_edge=False)
    hand.click(285, 20)
    hand.key(Qt.Key.Key_O)
    plate = tool(hand).plate
    assert [button.text() for button in plate.ready] == READY
    assert [button.accessibleName() for button in plate.ready] == READY
    assert plate.nextInFocusChain() is not None
    QTest.keyClick(plate._foot.line, Qt.Key.Key_Tab)
    first = plate.ready[0]
    assert plate._foot.line.nextInFocusChain() is first
    QTest.keyClick(first, Qt.Key.Key_Return)
    QApplication.processEvents()
    assert stays(hand)[0].why_planned == READY[0]
    hand.stage.session.undo().result()
    assert not placed(hand)
    assert not stays(hand)


def test_esc_on_a_ready_reason_closes_them_all(hand: Hand) -> None:
    hand.stage.placing.choose(snap_side=False, snap_edge=False)
    hand.click(285, 20)
    hand.key(Qt.Key.Key_O)
    QTest.keyClick(tool(hand).plate.ready[-1], Qt.Key.Key_Escape)
    assert not tool(hand).plate.asking
    assert tool(hand).plate.ready == []
    assert not placed(hand)


def test_a_reason_is_kept_with_the_paddock_while_no_group_goes_there(hand: Hand) -> None:
    hand.stage.placing.choose(group_uid="", snap_side=False, snap_edge=False)
    hand.click(285, 20)
    tool(hand).set("the pond is dry")
    QApplication.processEvents()
    (paddock,) = placed(hand)
    assert paddock.note == "the pond is dry"


def test_a_row_keeps_its_reason_with_each_paddock(hand: Hand) -> None:
    hand.stage.placing.choose(group_uid="", snap_side=False, snap_edge=False)
    hand.drag((230, 20), (290, 20))
    assert not placed(hand)
    tool(hand).set("the pond is dry")
    QApplication.processEvents()
    assert [each.note for each in placed(hand)] == ["the pond is dry"] * 2


def test_without_a_reason_nothing_is_set(hand: Hand) -> None:
    hand.stage.placing.choose(snap_side=False, snap_edge=False)
    hand.click(285, 20)
    hand.key(Qt.Key.Key_O)
    QTest.keyClick(tool(hand).plate._foot.line, Qt.Key.Key_Return)
    QTest.keyClick(tool(hand).plate._foot.line, Qt.Key.Key_Escape)
    assert not tool(hand).plate.asking
    assert not placed(hand)


def test_no_reason_helps_under_an_overhead_line(hand: Hand) -> None:
    hand.stage.placing.choose(snap_side=False, snap_edge=False)
    hand.click(250, 92)
    words = tool(hand).plate.words
    assert words is not None
    assert not words.overridable
    hand.key(Qt.Key.Key_O)
    assert not tool(hand).plate.asking
    tool(hand).set("Because")
    assert not placed(hand)


def test_a_refused_click_holds_the_ghost_so_that_the_plate_can_be_reached(hand: Hand) -> None:
    hand.stage.placing.choose(snap_side=False, snap_edge=False)
    hand.click(285, 20)
    held = tool(hand).row
    hand.hover(200, 50)
    assert tool(hand).row == held
    hand.key(Qt.Key.Key_Escape)
    hand.hover(200, 50)
    assert tool(hand).row != held


def test_keys_turn_and_size_it(hand: Hand) -> None:
    hand.hover(250, 40)
    hand.key(Qt.Key.Key_Q)
    assert hand.stage.placing.turned_deg == pytest.approx(5.0)
    hand.key(Qt.Key.Key_E, SHIFT)
    assert hand.stage.placing.turned_deg == pytest.approx(4.0)
    hand.key(Qt.Key.Key_Plus)
    hand.key(Qt.Key.Key_Plus, SHIFT)
    hand.key(Qt.Key.Key_Plus, SHIFT)
    hand.key(Qt.Key.Key_Minus, SHIFT)
    assert (hand.stage.placing.nets_long, hand.stage.placing.nets_wide) == (2, 2)
    assert tool(hand).row[0].area_m2 == pytest.approx(10_000)


def test_it_can_be_placed_without_a_mouse(hand: Hand) -> None:
    hand.key(Qt.Key.Key_Return)
    hand.type("E 250 N 40")
    (before,) = tool(hand).row
    hand.key(Qt.Key.Key_Right)
    hand.key(Qt.Key.Key_Up)
    (after,) = tool(hand).row
    assert after.centre == pytest.approx((before.centre[0] + 3.572, before.centre[1] + 3.572))
    hand.key(Qt.Key.Key_Return)
    assert placed(hand)[0].outline.centroid.x == pytest.approx(253.572)


def test_the_ghost_changes_nothing_until_it_is_set(hand: Hand) -> None:
    before = hand.stage.session.farm
    hand.hover(250, 40)
    hand.hover(285, 20)
    hand.take_up("pick")
    assert hand.stage.session.farm is before
    assert hand.map.preview_layers == ()


def test_a_farm_without_nets_has_no_ghost(qtbot: QtBot, tmp_path: Path) -> None:
    with made_hand(tmp_path, empty=True) as hand:
        hand.take_up("place")
        hand.click(100, 100)
        hand.key(Qt.Key.Key_Return)
        assert hand.map.preview_layers == ()
        assert not hand.stage.session.farm.paddocks


def test_with_a_writer_thread_the_ghost_stays_until_the_edit_is_published(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "hill.gpkg"
    make_session(tmp_path).close()
    poster = Poster()
    with Session.open(path, post=poster.post, registry=PARTS) as session:
        stage = stage_for(session, TODAY)
        stop = follow(stage)
        canvas = MapView(stage)
        canvas.resize(800, 500)
        canvas.show()
        hand = Hand(canvas)
        hand.settle()
        session.do(add_nets("fifty", 20))
        qtbot.waitUntil(lambda: len(session.farm.nets) > 20)
        hand.take_up("place")
        stage.placing.choose(group_uid="", in_on=None, snap_side=False, snap_edge=False)
        hand.hover(250, 40)
        tool(hand).set()
        assert tool(hand)._waiting
        assert not placed(hand)
        qtbot.waitUntil(lambda: bool(placed(hand)))
        qtbot.waitUntil(lambda: not tool(hand)._waiting)
        assert hand.words == "Top Field 15 placed. Carry 4 nets."
        stop()
        canvas.close_down()
        drop(canvas)


def test_after_a_click_the_next_ghost_waits_until_the_pointer_has_left_the_paddock(hand: Hand) -> None:
    hand.stage.placing.choose(snap_side=False, snap_edge=False, snap_fence=False)
    hand.click(250, 50)
    assert tool(hand).row == ()
    assert not tool(hand).plate.isVisible()
    step = hand.map.view.metres_per_unit
    hand.hover(250 + 4 * step, 50)
    assert tool(hand).row == ()
    hand.hover(250 + 20 * step, 50)
    assert tool(hand).row == ()
    hand.hover(250 + 0.6 * SIDE, 50)
    assert len(tool(hand).row) == 1


def test_with_the_pointer_in_a_paddock_that_stands_the_ghost_rests_beside_it(qtbot: QtBot, tmp_path: Path) -> None:
    with made_hand(tmp_path, groups=1) as hand:
        hand.stage.session.do(remove("stays", "group0s3")).result()
        hand.look(-40, -60, 440, 140)
        hand.stage.session.do(add_nets("fifty", 20)).result()
        hand.take_up("place")
        hand.stage.placing.choose(group_uid="group0", in_on=None)
        ghost = tool(hand).ghost
        assert ghost is not None
        standing = ghost.ground.standing[0].ground
        _, south, east, north = standing.bounds
        hand.hover(east - 4.0, (south + north) / 2)
        (rectangle,) = tool(hand).row
        assert rectangle.outline.intersection(standing).area == pytest.approx(0.0, abs=1.0)
        assert rectangle.centre[0] == pytest.approx(east + SIDE / 2, abs=0.1)
        assert rectangle.centre[1] == pytest.approx((south + north) / 2, abs=0.1)


def test_enter_on_a_refused_place_asks_for_the_reason(hand: Hand) -> None:
    hand.stage.placing.choose(snap_side=False, snap_edge=False)
    hand.click(285, 20)
    assert not tool(hand).plate.asking
    hand.key(Qt.Key.Key_Return)
    assert tool(hand).plate.asking
    assert not placed(hand)


def test_a_ghost_is_an_outline_until_its_figures_come(hand: Hand) -> None:
    hand.stage.placing.choose(snap_side=False, snap_edge=False)
    place = tool(hand)
    place.hover(hand.map.gestures.pointer(hand.spot(250, 50).toPointF(), Qt.KeyboardModifier.NoModifier))
    assert place.figures_due
    assert not any(isinstance(layer, Marks) for layer in hand.map.preview_layers)
    place.judge_now()
    assert not place.figures_due
    assert any(isinstance(layer, Marks) and layer.sign == "dot" for layer in hand.map.preview_layers)


def test_f_puts_the_ghost_beside_where_the_group_stands_and_again_at_its_next_side(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with made_hand(tmp_path, groups=1) as hand:
        hand.look(-40, -60, 440, 140)
        hand.stage.session.do(add_nets("fifty", 20)).result()
        hand.take_up("place")
        hand.stage.placing.choose(group_uid="group0")
        there = next(each.ground for each in tool(hand).ghost.ground.standing if each.group_uid == "group0")  # type: ignore[union-attr]
        found = []
        for _ in range(4):
            hand.key(Qt.Key.Key_F)
            (ghost,) = tool(hand).row
            assert shapely.intersection(ghost.outline.exterior, there.exterior).length == pytest.approx(50.0, abs=0.01)
            assert ghost.outline.intersection(there).area == pytest.approx(0.0, abs=0.5)
            found.append(ghost.centre)
        assert len({(round(x), round(y)) for x, y in found}) == 4


def test_f_says_so_where_the_group_stands_nowhere(hand: Hand) -> None:
    hand.key(Qt.Key.Key_F)
    assert hand.words == "The group stands nowhere, so nothing can lie beside it."


def steps(hand: Hand) -> list[tuple[int, int]]:
    """Return where each of a row lies, in sides of a paddock from the first."""
    x, y = tool(hand).row[0].centre
    return [(round((each.centre[0] - x) / SIDE), round((each.centre[1] - y) / SIDE)) for each in tool(hand).row]


def drag_to(hand: Hand, *spots: tuple[float, float]) -> None:
    for x, y in spots:
        tool(hand).drag(hand.map.gestures.pointer(hand.spot(x, y).toPointF(), Qt.KeyboardModifier.NoModifier))
    tool(hand).judge_now()


def begin_row(hand: Hand, x: float, y: float) -> None:
    hand.stage.placing.choose(snap_side=False, snap_fence=False, snap_edge=True)
    hand.hover(x, y)
    tool(hand).press(hand.map.gestures.pointer(hand.spot(x, y).toPointF(), Qt.KeyboardModifier.NoModifier))


def test_a_row_that_meets_the_end_of_the_field_turns_into_the_next_strip(hand: Hand) -> None:
    begin_row(hand, 275, 5)  # the field ends at 420, and is two paddocks wide
    drag_to(hand, (330, 5), (425, 9))
    assert steps(hand) == [(0, 0), (1, 0), (2, 0), (2, 1)]
    drag_to(hand, (320, 60))
    assert steps(hand) == [(0, 0), (1, 0), (2, 0), (2, 1), (1, 1)]
    drag_to(hand, (330, 5))
    assert steps(hand) == [(0, 0), (1, 0)]


def test_a_hand_that_goes_aslant_lays_no_strips(hand: Hand) -> None:
    begin_row(hand, 275, 5)
    drag_to(hand, (330, 45))
    assert steps(hand) == [(0, 0), (1, 0)]


def test_the_far_corners_of_the_next_paddock_show_faintly_and_crossed_out_beyond_the_field(hand: Hand) -> None:
    def crosses() -> list[float]:
        shown = [each for each in hand.map.preview_layers if isinstance(each, Marks) and each.sign == "cross"]
        return [x for each in shown for x in each.points[:, 0].tolist()]

    def arms() -> list[float]:
        shown = [each for each in hand.map.preview_layers if isinstance(each, Outlines) and len(each.points) == 8]
        return [x for each in shown for x in each.points[::2, 0].tolist()]

    begin_row(hand, 225, 55)
    drag_to(hand, (280, 55))
    right = tool(hand).row[-1].corners[:, 0].max()
    assert steps(hand) == [(0, 0), (1, 0)]
    assert arms() == pytest.approx([right + SIDE] * 4)
    assert not crosses()
    drag_to(hand, (372, 55))
    assert steps(hand)[-1] == (3, 0)
    assert not arms()
    assert crosses() == pytest.approx([right + 3 * SIDE] * 2)


def test_one_that_shares_no_side_tells_no_way_in_which_the_next_would_lie(hand: Hand) -> None:
    begin_row(hand, 225, 55)
    tool(hand).judge_now()
    assert not [each for each in hand.map.preview_layers if isinstance(each, Outlines) and len(each.points) == 8]


def test_r_lays_as_many_as_fit_each_time_another_way_and_enter_sets_them(hand: Hand) -> None:
    hand.stage.placing.choose(snap_side=False, snap_fence=False, snap_edge=False)
    hand.hover(320, 53)
    ways = []
    for _ in range(3):
        hand.key(Qt.Key.Key_R)
        ways.append(steps(hand))
    east, west = [(0, 0), (1, 0)], [(0, 0), (-1, 0)]
    assert [way[:2] for way in ways] in ([east, west, east], [west, east, west])
    assert len(ways[0]) >= len(ways[1])
    hand.hover(100, 53)  # it is held
    assert steps(hand) == ways[2]
    hand.key(Qt.Key.Key_Return)
    assert len(placed(hand)) == len(ways[2])


def test_what_is_alike_for_many_of_a_row_is_told_once(hand: Hand) -> None:
    hand.stage.session.do(
        add_way(WayKind.PERMANENT_FENCE, shapely.LineString([(210, 30), (420, 30)]), name="Lane fence")
    ).result()
    hand.stage.placing.choose(snap_side=False, snap_fence=True, snap_edge=False)
    hand.hover(250, 54)
    tool(hand).hold_at(*(tool(hand).row[0].shifted(number * 50_000) for number in range(3)))
    tool(hand).judge_now()
    words = tool(hand).plate.words
    assert words is not None
    (care,) = [each for each in words.cares if "Lane fence" in each]
    assert care.endswith("The like is so for 3 of them.")


def test_r_leaves_it_alone_where_no_other_fits_beside_it(hand: Hand) -> None:
    hand.stage.placing.choose(snap_side=False, snap_fence=False, snap_edge=False, nets_long=4)
    hand.hover(300, 53)
    hand.key(Qt.Key.Key_R)
    assert steps(hand) == [(0, 0)]


def test_shift_r_goes_on_from_strip_to_strip(hand: Hand) -> None:
    hand.stage.placing.choose(snap_side=False, snap_fence=False, snap_edge=True)
    hand.hover(375, 55)
    hand.key(Qt.Key.Key_R, SHIFT)
    assert {y for _, y in steps(hand)} == {0, -1}
    for one, other in pairwise(tool(hand).row):
        assert one.outline.intersection(other.outline).length == pytest.approx(SIDE)
    hand.key(Qt.Key.Key_Escape)
    hand.hover(250, 53)
    assert len(tool(hand).row) == 1


@pytest.mark.parametrize("high", [700, 440, 300])
def test_while_a_reason_is_typed_on_a_low_map_the_line_and_what_is_ready_are_in_view(hand: Hand, high: int) -> None:
    hand.map.resize(700, high)
    hand.look(-40, -60, 440, 140)
    hand.stage.placing.choose(group_uid="group0", in_on=day(8), snap_side=False, snap_edge=False)
    hand.click(285, 20)
    hand.key(Qt.Key.Key_O)
    plate = tool(hand).plate
    assert plate.asking
    assert plate.geometry().bottom() <= high + SHADOW_PX
    assert high == 300 or plate.geometry().top() >= -SHADOW_PX
    for each in (plate._foot.line, *plate.ready):
        box = each.geometry().translated(plate.pos())
        assert 0 <= box.top() < box.bottom() < high
    QTest.keyClick(plate._foot.line, Qt.Key.Key_Escape)
    assert not plate.asking
    assert plate.geometry().top() >= -SHADOW_PX
    page = plate._room.page
    assert page is not None
    assert (page.words == plate.words) is (page.more == 0)


# Sides of nets of more than one length


def mixing(hand: Hand) -> None:
    hand.stage.session.do(add_net_kind("25 m nets", (5_000,) * 5, nets=9, uid="half")).result()
    hand.stage.placing.mix(True)
    hand.stage.placing.step("half", 1, wide=False)


def test_a_ghost_of_mixed_nets_is_set_with_the_nets_of_its_sides(hand: Hand) -> None:
    mixing(hand)
    hand.stage.placing.choose(snap_side=False, snap_edge=False, snap_fence=False)
    hand.click(250, 50)
    (paddock,) = placed(hand)
    assert paddock.outline.area == pytest.approx(75 * 50)
    assert (paddock.net_kind_uid, paddock.nets_long, paddock.side_nets) == (
        "fifty",
        None,
        ("1 fifty, 1 half", "1 fifty"),
    )
    assert hand.words == "Top Field 15 placed. Carry 6 nets."


def test_the_plus_key_adds_a_net_of_the_chosen_kind_to_a_mixed_side(hand: Hand) -> None:
    mixing(hand)
    hand.stage.placing.choose(kind_uid="half")
    hand.hover(250, 50)
    hand.key(Qt.Key.Key_Plus)
    hand.key(Qt.Key.Key_Plus, SHIFT)
    assert tool(hand).ghost is not None
    assert [tool(hand).row[0].long_mm, tool(hand).row[0].wide_mm] == [100_000, 75_000]
    assert hand.stage.placing.choice.side_nets[1] == (("fifty", 1), ("half", 1))


def test_a_row_of_mixed_nets_keeps_them_and_shares_whole_sides(hand: Hand) -> None:
    mixing(hand)
    hand.stage.placing.choose(snap_side=False, snap_edge=False, snap_fence=False)
    hand.drag((240, 50), (320, 50))
    found = placed(hand)
    assert len(found) == 2
    assert {each.side_nets for each in found} == {("1 fifty, 1 half", "1 fifty")}


def test_a_paddock_of_mixed_nets_is_placed_again_with_them(hand: Hand) -> None:
    mixing(hand)
    hand.stage.placing.choose(snap_side=False, snap_edge=False, snap_fence=False)
    hand.click(250, 50)
    (paddock,) = placed(hand)
    hand.stage.placing.mix(False)
    hand.hover(252, 52)
    hand.key(Qt.Key.Key_A)
    (row,) = tool(hand).row
    assert shapely.equals_exact(row.outline.normalize(), paddock.outline.normalize(), 1e-6)
    assert hand.stage.placing.choice.side_nets == ((("fifty", 1), ("half", 1)), (("fifty", 1),)) * 2
