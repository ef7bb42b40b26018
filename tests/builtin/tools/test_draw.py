from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import shapely
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.tools.draw import Draw
from pigmap.builtin.tools.reshape import handles, reshaped, shape_of
from pigmap.builtin.tools.side_lengths import area_so_far, side_lengths
from pigmap.document.edits import add_keep_out, add_way, place_paddock
from pigmap.drawing.layer import Label
from pigmap.qt.fed_by import NOT_ELECTRIC
from pigmap.qt.stage import Picked
from pigmap.records import Field, GroundCover, PlaceKind, Reason, WayKind, change
from tests.builtin.tools.map_hand import Hand, made_hand

CORNERS = ((20.0, 150.0), (120.0, 150.0), (120.0, 230.0), (20.0, 230.0))


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path) as made:
        made.look(-50, -50, 450, 300)
        made.take_up("draw")
        yield made


def new_field(hand: Hand) -> Field:
    (field,) = (each for each in hand.stage.session.farm.fields.values() if each.uid != "field")
    return field


def draw(hand: Hand, corners: tuple[tuple[float, float], ...] = CORNERS) -> None:
    for corner in corners:
        hand.click(*corner)


def test_corner_by_corner_and_enter_make_a_field(hand: Hand) -> None:
    draw(hand)
    hand.key(Qt.Key.Key_Return)
    field = new_field(hand)
    assert field.name == "Field 2"  # there is one
    assert field.outline.area == pytest.approx(8000, rel=0.02)
    assert hand.words == "Field 2 added."
    assert hand.stage.picked == Picked("fields", field.uid)


def test_how_it_is_drawn_is_said_until_something_is_and_nothing_moves(hand: Hand) -> None:
    plate = hand.tool._plate
    assert plate._how.text() == "Click the corners; Enter closes it."
    assert not plate._how.isHidden()
    before = [link.pos() for link in plate._links]
    draw(hand, CORNERS[:2])
    assert plate._how.isHidden()
    assert [link.pos() for link in plate._links] == before
    draw(hand, CORNERS[2:])
    hand.key(Qt.Key.Key_Return)
    assert not plate._how.isHidden()
    hand.key(Qt.Key.Key_L)
    assert plate._how.text() == "Click along it; Enter ends it."
    assert plate.rect().contains(plate._how.geometry())


def test_while_it_is_drawn_each_side_says_its_length_and_the_whole_its_area(hand: Hand) -> None:
    def figures(points: list[tuple[float, float]], pointer: tuple[float, float] | None) -> tuple[Label, ...]:
        return (*side_lengths(points, pointer, hand.stage), *area_so_far(points, pointer, hand.stage))

    said = [label.words for label in figures(list(CORNERS[:3]), CORNERS[3])]
    assert said == ["100 m", "80 m", "100 m", "0.80 ha"]
    assert figures(list(CORNERS[:1]), None) == ()
    crossed = figures([CORNERS[0], CORNERS[2], CORNERS[1]], CORNERS[3])
    assert [label.look for label in crossed] == ["length"] * 3  # no area of what crosses itself


def test_pressed_once_more_the_key_of_drawing_goes_to_the_name(hand: Hand) -> None:
    name = next(each for each in hand.map.findChildren(QLineEdit) if each.accessibleName() == "Name")
    for key in (Qt.Key.Key_N, Qt.Key.Key_D):
        hand.map.setFocus()
        hand.key(key)
        assert QApplication.focusWidget() is name


def test_enter_after_the_name_sets_no_corner(hand: Hand) -> None:
    name = next(each for each in hand.map.findChildren(QLineEdit) if each.accessibleName() == "Name")
    hand.key(Qt.Key.Key_N)
    QTest.keyClicks(name, "West Field")
    QTest.keyClick(name, Qt.Key.Key_Return)
    assert QApplication.focusWidget() is hand.map
    draw(hand)
    hand.key(Qt.Key.Key_Return)
    field = new_field(hand)
    assert field.name == "West Field"
    assert len(field.outline.geoms[0].exterior.coords) == len(CORNERS) + 1


def test_a_double_click_closes_the_outline(hand: Hand) -> None:
    draw(hand, CORNERS[:3])
    hand.double(*CORNERS[3])
    assert len(new_field(hand).outline.geoms[0].exterior.coords) == 5


def test_a_click_on_the_first_corner_closes_too(hand: Hand) -> None:
    draw(hand)
    hand.click(*CORNERS[0])
    assert new_field(hand).outline.area == pytest.approx(8000, rel=0.02)


def test_backspace_takes_the_last_corner_back(hand: Hand) -> None:
    draw(hand, (*CORNERS, (300.0, 280.0)))
    hand.key(Qt.Key.Key_Backspace)
    hand.key(Qt.Key.Key_Return)
    assert new_field(hand).outline.area == pytest.approx(8000, rel=0.02)


def test_an_outline_left_half_drawn_stays_until_esc(hand: Hand) -> None:
    draw(hand, CORNERS[:2])
    hand.take_up("pick")
    hand.take_up("draw")
    assert len(hand.tool._corners.points) == 2
    draw(hand, CORNERS[2:])
    hand.key(Qt.Key.Key_Escape)
    hand.key(Qt.Key.Key_Return)
    assert set(hand.stage.session.farm.fields) == {"field"}


def test_one_undo_takes_the_whole_outline_back(hand: Hand) -> None:
    draw(hand)
    hand.key(Qt.Key.Key_Return)
    hand.stage.session.undo().result()
    assert set(hand.stage.session.farm.fields) == {"field"}


def test_two_corners_make_no_field_and_stay_to_go_on_from(hand: Hand) -> None:
    draw(hand, CORNERS[:2])
    hand.key(Qt.Key.Key_Return)
    assert set(hand.stage.session.farm.fields) == {"field"}
    assert hand.said[-1].kind == "refused"
    draw(hand, CORNERS[2:])
    hand.key(Qt.Key.Key_Return)
    assert new_field(hand).outline.area == pytest.approx(8000, rel=0.02)


def test_k_draws_a_keep_out_with_its_reason(hand: Hand) -> None:
    hand.key(Qt.Key.Key_K)
    hand.tool._plate.choose_what(Reason.WELL)
    draw(hand)
    hand.key(Qt.Key.Key_Return)
    (well,) = (each for each in hand.stage.session.farm.keep_outs.values() if each.uid != "pond")
    assert well.reason is Reason.WELL
    assert well.shape.area == pytest.approx(8000, rel=0.02)


def test_the_plate_says_what_grows_there_and_the_name(hand: Hand) -> None:
    hand.tool._plate.choose_what(GroundCover.WOODLAND)
    hand.tool._plate._name.setText("Ash Wood")
    draw(hand)
    hand.key(Qt.Key.Key_Return)
    assert new_field(hand).name == "Ash Wood"
    assert new_field(hand).ground_cover is GroundCover.WOODLAND


def test_a_field_can_be_typed_without_a_mouse(hand: Hand) -> None:
    for words in ("E 20 N 150", "100 at 90", "80 at 0", "100 at 270"):
        hand.type(words)
    hand.key(Qt.Key.Key_Return)
    field = new_field(hand)
    assert field.outline.equals_exact(shapely.MultiPolygon([shapely.Polygon(CORNERS)]), 1e-6)


def test_a_line_that_is_not_understood_stays_open(hand: Hand) -> None:
    hand.type("7 sheep")
    assert hand.words.startswith("7 sheep is not a length and a direction.")
    assert not hand.line().isHidden()
    assert hand.line().text() == "7 sheep"


def test_dragging_a_corner_of_what_is_picked_reshapes_it(hand: Hand) -> None:
    hand.stage.pick(Picked("keep_outs", "pond"))
    hand.drag((320.0, 10.0), (335.0, 40.0))
    shape = hand.stage.session.farm.keep_outs["pond"].shape
    assert shape.area > 500
    assert hand.words == "Keep-out reshaped."
    hand.stage.session.undo().result()
    assert hand.stage.session.farm.keep_outs["pond"].shape.area == pytest.approx(400)


def test_a_new_corner_comes_out_of_the_middle_of_a_side(hand: Hand) -> None:
    hand.stage.pick(Picked("keep_outs", "pond"))
    hand.drag((310.0, 10.0), (310.0, 40.0))
    shape = hand.stage.session.farm.keep_outs["pond"].shape
    assert shapely.get_num_coordinates(shape) == 6


def test_a_corner_dragged_across_its_own_edge_is_refused(hand: Hand) -> None:
    hand.stage.pick(Picked("fields", "field"))
    before = hand.stage.session.farm.fields["field"].outline
    hand.drag((-20.0, -20.0), (440.0, 60.0), steps=3)
    assert hand.stage.session.farm.fields["field"].outline.equals(before)
    assert hand.words == "The edge of Top Field crosses itself. Move a corner so that it goes round once."


def test_a_hole_keeps_its_corners() -> None:
    shape = shapely.Polygon([(0, 0), (10, 0), (10, 10), (0, 10)], [[(4, 4), (6, 4), (6, 6), (4, 6)]])
    found = handles(shape)
    hole = next(i for i, each in enumerate(found.owners) if each.ring == 1 and each.is_corner)
    x, y = found.points[hole].tolist()
    moved = reshaped(shape, found.at(hole), (x - 1, y - 1))
    assert moved.area == pytest.approx(96 - 2)


def test_the_tool_is_one_for_each_map() -> None:
    assert Draw() is not Draw()


def test_an_outline_left_half_drawn_is_said_with_a_way_to_go_on(hand: Hand) -> None:
    draw(hand, CORNERS[:1])
    hand.take_up("pick")
    assert hand.words == "1 corner waits where you left it."
    assert hand.said[-1].deed == "draw"


def test_an_outline_that_esc_dropped_comes_back_with_backspace(hand: Hand) -> None:
    draw(hand, CORNERS[:2])
    hand.key(Qt.Key.Key_Escape)
    assert hand.words == "2 corners dropped. Backspace brings them back."
    hand.key(Qt.Key.Key_Backspace)
    assert len(hand.tool._corners.points) == 2


def test_enter_sets_the_first_corner_in_the_middle_of_the_map_and_the_others_are_typed(hand: Hand) -> None:
    hand.key(Qt.Key.Key_Return)
    view = hand.map.view
    for leg in ("80 at 90", "60 at 0", "80 at 270"):
        hand.type(leg)
    hand.key(Qt.Key.Key_Return)
    field = new_field(hand)
    assert field.outline.area == pytest.approx(4800, rel=0.001)
    west, south, _, _ = field.outline.bounds
    assert (west, south) == pytest.approx((view.centre_x_m, view.centre_y_m), abs=0.01)


def test_the_figure_that_opens_the_line_is_its_first(hand: Hand) -> None:
    hand.click(20.0, 150.0)
    hand.map.window().activateWindow()
    QTest.keyClick(hand.map, Qt.Key.Key_8)
    line = hand.line()
    assert not line.hasSelectedText()
    QTest.keyClicks(line, "0 at 90")
    assert line.text() == "80 at 90"


def test_several_corners_are_typed_in_one_line_and_all_stay_typed_where_one_is_none(hand: Hand) -> None:
    hand.type("E 20 N 150; 80 at 90; 60 at north")
    assert hand.words.startswith("60 at north is not a length and a direction.")
    assert hand.tool._corners.points == []
    hand.type("E 20 N 150; 80 at 90; 60 at 0; 80 at 270")
    hand.key(Qt.Key.Key_Return)
    assert new_field(hand).outline.area == pytest.approx(4800, rel=0.001)


def only_new(hand: Hand, table: str, known: tuple[str, ...] = ()) -> Any:
    (row,) = (each for uid, each in hand.stage.session.farm.rows(table).items() if uid not in known)
    return row


def test_l_draws_a_line_of_two_corners_and_picks_it(hand: Hand) -> None:
    known = tuple(hand.stage.session.farm.ways)
    hand.key(Qt.Key.Key_L)
    hand.tool._plate.choose_what(WayKind.PATH)
    draw(hand, CORNERS[:2])
    hand.key(Qt.Key.Key_Return)
    path = only_new(hand, "ways", known)
    assert (path.kind, path.electric, path.voltage_kv) == (WayKind.PATH, False, None)
    assert path.line.length == pytest.approx(100, rel=0.02)
    assert hand.words == "Path added."
    assert hand.stage.picked == Picked("ways", path.uid)
    hand.stage.session.undo().result()
    assert tuple(hand.stage.session.farm.ways) == known


def test_a_line_does_not_close_at_its_first_corner(hand: Hand) -> None:
    known = tuple(hand.stage.session.farm.ways)
    hand.key(Qt.Key.Key_L)
    draw(hand)
    hand.click(*CORNERS[0])
    hand.key(Qt.Key.Key_Return)
    line = only_new(hand, "ways", known).line
    assert len(line.coords) == 5
    assert line.coords[0] == pytest.approx(line.coords[-1], abs=2)


def test_a_line_of_one_corner_is_refused_and_goes_on(hand: Hand) -> None:
    hand.key(Qt.Key.Key_L)
    hand.tool._plate.choose_what(WayKind.OVERHEAD_LINE)
    draw(hand, CORNERS[:1])
    hand.key(Qt.Key.Key_Return)
    assert (
        hand.words == "The overhead line has one corner. Set a second one, then close it with Enter or a double click."
    )
    assert len(hand.tool._corners.points) == 1


@pytest.mark.parametrize(("typed", "kv"), [("11", 11.0), (" 0,4 kV", 0.4), ("", None)])
def test_an_overhead_line_takes_its_voltage_as_people_type_it(hand: Hand, typed: str, kv: float | None) -> None:
    known = tuple(hand.stage.session.farm.ways)
    hand.key(Qt.Key.Key_L)
    assert hand.tool._plate._volts.isHidden()
    hand.tool._plate.choose_what(WayKind.OVERHEAD_LINE)
    assert not hand.tool._plate._volts.isHidden()
    hand.tool._plate._volts.setText(typed)
    draw(hand, CORNERS[:2])
    hand.key(Qt.Key.Key_Return)
    assert only_new(hand, "ways", known).voltage_kv == kv


def test_a_voltage_that_is_none_is_said_and_what_is_drawn_stays(hand: Hand) -> None:
    known = tuple(hand.stage.session.farm.ways)
    hand.key(Qt.Key.Key_L)
    hand.tool._plate.choose_what(WayKind.OVERHEAD_LINE)
    hand.tool._plate._volts.setText("the big one")
    draw(hand, CORNERS[:2])
    hand.key(Qt.Key.Key_Return)
    assert hand.words == (
        "the big one is no voltage. "
        "Type the kilovolts alone, such as 11, or leave it empty: then the widest distance is kept."
    )
    assert tuple(hand.stage.session.farm.ways) == known
    assert len(hand.tool._corners.points) == 2


def test_a_permanent_fence_says_what_feeds_it(hand: Hand) -> None:
    hand.key(Qt.Key.Key_A)
    hand.tool._plate.choose_what(PlaceKind.ENERGIZER)
    hand.tool._plate._name.setText("Yard")
    hand.click(60.0, 60.0)
    yard = only_new(hand, "places", ("tap",))
    fed = []
    for data in (NOT_ELECTRIC, yard.uid, ""):
        known = tuple(hand.stage.session.farm.ways)
        hand.key(Qt.Key.Key_L)
        hand.tool._plate.choose_what(WayKind.PERMANENT_FENCE)
        box = hand.tool._plate._fed_by
        box.setCurrentIndex(box.findData(data))
        draw(hand, CORNERS[:2])
        hand.key(Qt.Key.Key_Return)
        fence = only_new(hand, "ways", known)
        fed.append((fence.electric, fence.energizer_uid))
    assert fed == [(False, None), (True, yard.uid), (True, None)]


def test_a_place_is_set_by_one_click_and_can_be_dragged(hand: Hand) -> None:
    hand.key(Qt.Key.Key_A)
    hand.tool._plate.choose_what(PlaceKind.WATER_POINT)
    hand.click(60.0, 60.0)
    tap = only_new(hand, "places", ("tap",))
    assert (tap.kind, tap.name) == (PlaceKind.WATER_POINT, "")
    assert hand.words == "Water point added."
    assert hand.stage.picked == Picked("places", tap.uid)
    hand.drag((tap.point.x, tap.point.y), (90.0, 80.0))
    moved = hand.stage.session.farm.places[tap.uid].point
    assert (moved.x, moved.y) == pytest.approx((90.0, 80.0), abs=2)
    assert hand.words == "Place moved."


def test_a_place_is_set_by_enter_and_by_typing(hand: Hand) -> None:
    hand.key(Qt.Key.Key_A)
    hand.key(Qt.Key.Key_Return)
    hand.type("E 20 N 150")
    points = [(place.point.x, place.point.y) for uid, place in hand.stage.session.farm.places.items() if uid != "tap"]
    assert points == [pytest.approx((200.0, 125.0)), (20.0, 150.0)]


def test_corners_that_were_set_do_not_become_a_place(hand: Hand) -> None:
    draw(hand, CORNERS[:2])
    hand.key(Qt.Key.Key_A)
    assert not hand.tool._corners.points
    assert hand.words == "2 corners dropped. Backspace brings them back."
    assert set(hand.stage.session.farm.places) == {"tap"}


def test_a_corner_of_a_line_is_dragged_and_a_new_one_pulled_out(hand: Hand) -> None:
    known = tuple(hand.stage.session.farm.ways)
    hand.key(Qt.Key.Key_L)
    draw(hand, CORNERS[:2])
    hand.key(Qt.Key.Key_Return)
    uid = only_new(hand, "ways", known).uid
    hand.drag(CORNERS[1], (150.0, 180.0))
    hand.drag((85.0, 165.0), (85.0, 200.0))
    line = hand.stage.session.farm.ways[uid].line
    assert len(line.coords) == 3
    assert line.coords[2] == pytest.approx((150.0, 180.0), abs=2)
    assert line.coords[1] == pytest.approx((85.0, 200.0), abs=3)


def _way(hand: Hand) -> shapely.LineString:
    return next(way.line for uid, way in hand.stage.session.farm.ways.items() if uid == "track")


@pytest.fixture
def track(hand: Hand) -> Hand:
    line = shapely.LineString([(20, 150), (120, 150), (120, 230)])
    hand.stage.session.do(add_way(WayKind.PATH, line, uid="track")).result()
    hand.stage.pick(Picked("ways", "track"))
    hand.settle()
    return hand


def test_a_chosen_corner_is_stepped_and_quick_steps_are_one_edit(track: Hand) -> None:
    track.key(Qt.Key.Key_E)
    track.key(Qt.Key.Key_E)
    for _ in range(3):
        track.key(Qt.Key.Key_Right)
    track.key(Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    assert list(_way(track).coords)[1] == (120, 150)  # not before the keys rest
    track.key(Qt.Key.Key_Return)
    track.settle()
    assert list(_way(track).coords)[1] == pytest.approx((123, 150.1))
    track.stage.session.undo().result()
    assert list(_way(track).coords)[1] == (120, 150)


def test_a_chosen_corner_is_typed(track: Hand) -> None:
    track.key(Qt.Key.Key_Q)
    QTest.keyClick(track.map, Qt.Key.Key_T)
    line = track.tool._steps._line
    assert line.isVisible()
    QTest.keyClicks(line, "5 east")
    QTest.keyClick(line, Qt.Key.Key_Return)
    track.settle()
    assert list(_way(track).coords)[2] == pytest.approx((125, 230))


def test_what_is_typed_and_not_understood_stays_open_with_the_remedy(track: Hand) -> None:
    track.key(Qt.Key.Key_E)
    QTest.keyClick(track.map, Qt.Key.Key_T)
    line = track.tool._steps._line
    QTest.keyClicks(line, "over there")
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert line.isVisible()
    assert "does not say how far and which way" in track.words
    assert "Type 3 east" in track.words


def test_esc_puts_a_stepped_corner_back_and_the_arrows_move_the_map_again(track: Hand) -> None:
    track.key(Qt.Key.Key_E)
    track.key(Qt.Key.Key_Right)
    track.key(Qt.Key.Key_Escape)
    track.settle()
    assert _way(track).coords[0] == (20, 150)
    assert track.tool._steps.chosen is None
    track.key(Qt.Key.Key_Right)
    track.key(Qt.Key.Key_Return)
    assert _way(track).coords[0] == (20, 150)


def test_leaving_the_verb_sets_what_was_stepped(track: Hand) -> None:
    track.key(Qt.Key.Key_E)
    track.key(Qt.Key.Key_Left)
    track.take_up("pick")
    track.settle()
    assert _way(track).coords[0] == pytest.approx((19, 150))


def test_a_corner_that_was_dragged_is_the_chosen_one(track: Hand) -> None:
    track.drag((120, 150), (130, 160))
    track.settle()
    track.key(Qt.Key.Key_Down)
    track.key(Qt.Key.Key_Return)
    track.settle()
    x, y = list(_way(track).coords)[1]
    assert (x, y) == pytest.approx((130, 159), abs=1.0)


def test_a_place_and_a_keep_out_with_a_radius_are_stepped_too(hand: Hand) -> None:
    oak = add_keep_out(shapely.Point(60, 180), Reason.ROOTS, name="Oak", uid="oak", radius_m=5.0)
    hand.stage.session.do(oak).result()
    for table, uid in (("places", "tap"), ("keep_outs", "oak")):
        hand.stage.pick(Picked(table, uid))
        hand.settle()
        hand.key(Qt.Key.Key_E)
        hand.key(Qt.Key.Key_Up)
        hand.key(Qt.Key.Key_Return)
        hand.settle()
    farm = hand.stage.session.farm
    assert (farm.places["tap"].point.x, farm.places["tap"].point.y) == pytest.approx((-10, -9))
    kept = farm.keep_outs["oak"]
    assert (kept.shape.centroid.y, kept.radius_m) == pytest.approx((181, 5.0))


def test_a_planned_paddock_with_corners_of_its_own_is_dragged_and_one_with_pigs_is_not(hand: Hand) -> None:
    crooked = shapely.Polygon([(240, 30), (280, 30), (275, 70), (245, 72)])
    hand.stage.session.do(place_paddock(crooked, net_kind_uid="fifty", uid="crooked")).result()
    farm = hand.stage.session.farm
    assert shape_of(farm, Picked("paddocks", "crooked")) is not None
    assert shape_of(farm, Picked("paddocks", "group0p2")) is None
    whole = farm.paddocks["crooked"]
    told = farm.after([change(whole, replace(whole, side_nets=("1 fifty", "1 fifty")))])
    assert shape_of(told, Picked("paddocks", "crooked")) is None


def test_a_plate_higher_than_the_map_is_moved_by_the_wheel_and_back(hand: Hand) -> None:
    hand.map.resize(700, 200)
    hand.take_up("draw")
    (plate,) = [each for each in hand.map.findChildren(QWidget) if type(each).__name__ == "DrawPlate"]
    begin = plate.y()
    for turned in (-2400, 2400):
        at = QPointF(20, 100)
        wheel = QWheelEvent(
            at,
            at,
            QPoint(),
            QPoint(0, turned),
            Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier,
            Qt.ScrollPhase.NoScrollPhase,
            False,
        )
        QApplication.sendEvent(plate, wheel)
        if turned < 0:
            assert plate.geometry().bottom() <= hand.map.height()
    assert plate.y() == begin
