from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from pathlib import Path
from typing import cast

import numpy as np
import pytest
import shapely
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.tools.place import Place
from pigmap.document.edits import add_keep_out, add_net_kind, add_nets, add_place, amend, place_paddock, remove
from pigmap.drawing.layer import Labels, Marks, Outlines
from pigmap.records import Paddock, PlaceKind, Reason, Stay, StayState
from tests.builtin.tools.map_hand import Hand, made_hand
from tests.qt.window_farm import day

BAY = 3.572
"""The bays of the farm's 50 m net; the last of fourteen is 8 mm shorter [m]."""


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path, groups=1) as made:
        made.look(60, -20, 300, 120)
        made.stage.session.do(add_nets("fifty", 20)).result()
        made.stage.session.do(remove("stays", "group0s3")).result()
        made.take_up("place")
        made.stage.placing.choose(group_uid="group0", in_on=day(3), free=True)
        yield made


def tool(hand: Hand) -> Place:
    return cast("Place", hand.tool)


def placed(hand: Hand) -> list[Paddock]:
    return [each for uid, each in hand.stage.session.farm.paddocks.items() if not uid.startswith("group")]


def stays(hand: Hand) -> list[Stay]:
    return [each for uid, each in hand.stage.session.farm.stays.items() if not uid.startswith("group")]


def words_on_map(hand: Hand) -> list[str]:
    return [label.words for layer in hand.map.preview_layers if isinstance(layer, Labels) for label in layer.labels]


L_SHAPE = [(150, 0), (199, 1), (201, 24), (176, 26), (174, 49), (151, 51)]
"""Where a hand clicks the corners of an L beside the paddock that stands from 100 to 150 m east."""


def walk(hand: Hand, corners: Sequence[tuple[float, float]]) -> None:
    for corner in corners:
        hand.hover(*corner)
        hand.click(*corner)


def test_an_l_of_six_corners_is_planned_with_its_stay_in_one_edit(hand: Hand) -> None:
    walk(hand, L_SHAPE)
    hand.click(150, 0)
    (paddock,) = placed(hand)
    seven = 7 * BAY
    wanted = [(150, 0), (200, 0), (200, seven), (200 - seven, seven), (200 - seven, 50), (150, 50)]
    assert shapely.hausdorff_distance(paddock.outline, shapely.Polygon(wanted)) < 0.1
    assert (paddock.net_kind_uid, paddock.nets_long, paddock.field_uid) == ("fifty", None, "field")
    (stay,) = stays(hand)
    assert (stay.state, stay.group_uid, stay.in_on) == (StayState.PLANNED, "group0", day(3))
    assert stay.ground.equals(paddock.outline)
    assert hand.words == "Top Field 5 placed. Carry 3 nets, leave 1."
    hand.stage.session.undo().result()
    assert not placed(hand)
    assert not stays(hand)


def test_beside_it_stand_side_nets_area_and_days_while_it_is_walked(hand: Hand) -> None:
    walk(hand, [(150, 50), *L_SHAPE[:2]])
    hand.hover(201, 37)
    plate = tool(hand).plate.words
    assert plate is not None
    assert plate.head == "Carry 3 nets, leave 1"
    rows = {row.name: (row.figure, row.beside) for row in plate.rows}
    assert rows["Side"] == ("35.7 m", "10 bays")
    assert rows["Area"][1] == "4 corners"
    assert "Stay" in rows


def test_sides_are_told_in_bays_from_the_shared_side_on(hand: Hand) -> None:
    walk(hand, [(150, 50), (150, 0)])
    hand.hover(199, 1)
    said = words_on_map(hand)
    assert "50.0 m, stands" in said
    assert "50.0 m, 14 bays" in said


def test_alt_leaves_a_corner_where_the_pointer_is_and_it_gets_a_stake(hand: Hand) -> None:
    walk(hand, [(150, 50), (150, 0)])
    corners = tool(hand).free.corners
    corners.add(192.0, 3.0)
    corners.add(190.0, 47.0)
    tool(hand).free.close()
    tool(hand).show_moved()
    tool(hand).judge_now()
    assert "own stake" in words_on_map(hand)
    assert any(isinstance(layer, Marks) and layer.sign == "ring" for layer in hand.map.preview_layers)
    plate = tool(hand).plate.words
    assert plate is not None
    assert any(care == "2 corners fall between two posts. Take 2 stakes for them." for care in plate.cares)


def test_around_single_trees_a_free_outline_closes(hand: Hand) -> None:
    tree = add_keep_out(shapely.Point(190, 25).buffer(1.0), Reason.ROOTS, name="Old oak")
    hand.stage.session.do(tree).result()
    hand.settle()
    walk(hand, [(150, 50), (150, 0), (180, -3), (182, 12), (165, 28), (190, 45)])
    hand.key(Qt.Key.Key_Return)
    (paddock,) = placed(hand)
    assert len(shapely.get_coordinates(paddock.outline.exterior)) == 7
    assert not paddock.outline.contains(shapely.Point(190, 25))


def test_a_side_in_the_pond_is_not_here_and_can_be_placed_with_a_reason(hand: Hand) -> None:
    hand.look(140, -20, 380, 120)
    walk(hand, [(230, 0), (290, 0), (305, 40), (230, 40)])
    hand.key(Qt.Key.Key_Return)
    assert not placed(hand)
    plate = tool(hand).plate
    assert plate.words is not None
    assert "Duck pond" in plate.words.against
    assert plate.words.remedy.startswith("Set its ")
    assert any(isinstance(layer, Outlines) and layer.hatch is not None for layer in hand.map.preview_layers)
    hand.key(Qt.Key.Key_O)
    QTest.keyClick(plate.ready[0], Qt.Key.Key_Return)
    QApplication.processEvents()
    assert len(placed(hand)) == 1
    assert stays(hand)[0].why_planned == "the pond is dry"


def test_crossing_sides_are_told_and_a_corner_is_taken_back(hand: Hand) -> None:
    walk(hand, [(210, 10), (250, 10), (212, 45), (250, 47)])
    hand.key(Qt.Key.Key_Return)
    assert not placed(hand)
    plate = tool(hand).plate.words
    assert plate is not None
    assert plate.against == "Its sides cross."
    assert plate.remedy == "Go round it once, from corner to corner. Backspace takes the last corner back."
    hand.key(Qt.Key.Key_Backspace)
    hand.key(Qt.Key.Key_Return)
    assert len(placed(hand)) == 1


def test_two_corners_close_nothing_and_it_says_so(hand: Hand) -> None:
    walk(hand, [(210, 10), (250, 10)])
    hand.key(Qt.Key.Key_Return)
    assert hand.words == "2 corners close no ground yet. Set one more."
    assert len(tool(hand).free.corners.points) == 2


def test_a_double_click_closes_and_esc_drops_what_backspace_brings_back(hand: Hand) -> None:
    walk(hand, [(210, 10), (250, 10)])
    hand.key(Qt.Key.Key_Escape)
    assert not tool(hand).free.corners.points
    hand.key(Qt.Key.Key_Backspace)
    hand.hover(250, 50)
    hand.double(250, 50)
    (paddock,) = placed(hand)
    assert len(shapely.get_coordinates(paddock.outline.exterior)) == 4


def test_corners_are_typed_as_lengths_and_directions(hand: Hand) -> None:
    hand.click(150, 0)
    hand.type("60 at 90")
    hand.type("50 at 0; 60 at 270")
    hand.key(Qt.Key.Key_Return)
    (paddock,) = placed(hand)
    assert shapely.hausdorff_distance(paddock.outline, shapely.box(150, 0, 210, 50)) < 0.01


def test_the_first_corner_comes_to_the_middle_by_enter(hand: Hand) -> None:
    hand.key(Qt.Key.Key_Return)
    assert len(tool(hand).free.corners.points) == 1


def test_k_turns_to_rectangles_and_back_and_stays_so(hand: Hand) -> None:
    hand.key(Qt.Key.Key_K)
    assert not hand.stage.placing.choice.free
    hand.hover(230, 30)
    assert len(tool(hand).row) == 1
    hand.key(Qt.Key.Key_K)
    hand.take_up("pick")
    hand.take_up("place")
    assert hand.stage.placing.choice.free
    walk(hand, [(210, 10)])
    assert len(tool(hand).free.corners.points) == 1


def test_corners_that_wait_are_told_of_and_gone_on_with(hand: Hand) -> None:
    walk(hand, [(210, 10), (250, 10)])
    hand.take_up("pick")
    assert hand.words == "2 corners wait where you left them."
    hand.take_up("place")
    walk(hand, [(250, 45)])
    hand.key(Qt.Key.Key_Return)
    assert len(placed(hand)) == 1


def test_a_corner_that_is_set_is_dragged(hand: Hand) -> None:
    walk(hand, [(210, 10), (250, 10), (250, 46), (210, 46)])
    hand.drag((250, 46), (262, 60))
    assert len(tool(hand).free.corners.points) == 4
    x, y = tool(hand).free.corners.points[2]
    assert np.hypot(x - 262, y - 60) < 2 * BAY
    hand.key(Qt.Key.Key_Return)
    assert len(placed(hand)) == 1


def test_a_crooked_old_paddock_is_placed_again_on_its_corners(hand: Hand) -> None:
    crooked = shapely.Polygon([(360, 30), (400, 30), (395, 60), (365, 62)])
    hand.stage.session.do(place_paddock(crooked, net_kind_uid="fifty", uid="crooked", name="Crooked one")).result()
    hand.stage.placing.choose(free=False)
    hand.look(200, -20, 440, 120)
    hand.hover(380, 45)
    hand.key(Qt.Key.Key_A)
    assert hand.stage.placing.choice.free
    hand.key(Qt.Key.Key_Return)
    assert [each.uid for each in placed(hand)] == ["crooked"]
    assert [each.paddock_uid for each in stays(hand)] == ["crooked"]


def test_every_corner_falls_on_a_post_where_nothing_else_draws_it(hand: Hand) -> None:
    walk(hand, [(215, 12), (247, 19), (251, 44)])
    points = tool(hand).free.corners.points
    total = 0.0
    for (x, y), (to_x, to_y) in pairwise(points):
        total += float(np.hypot(to_x - x, to_y - y))
        assert total / BAY == pytest.approx(round(total / BAY), abs=0.01)


# Round what is kept out


def test_a_rectangle_that_touches_a_tree_goes_round_it(hand: Hand) -> None:
    hand.stage.placing.choose(free=False, snap_side=False, snap_edge=False, snap_fence=False, group_uid="")
    tree = add_place(PlaceKind.TREE, shapely.Point(254, 50), name="Old oak", uid="oak")
    hand.stage.session.do(tree).result()
    hand.stage.session.do(amend("places", "oak", radius_m=6.0)).result()
    hand.hover(229, 50)
    hand.key(Qt.Key.Key_G)
    assert hand.stage.placing.choice.free
    outline = hand.tool.free.outline
    assert outline is not None
    assert outline.outline.distance(shapely.Point(254, 50)) >= 6.0
    assert not [each for each in hand.tool._judging.known((outline,))[0].warnings if not each.care]


def test_where_nothing_is_in_the_way_it_says_so(hand: Hand) -> None:
    hand.stage.placing.choose(free=False, snap_side=False, snap_edge=False, snap_fence=False, group_uid="")
    hand.hover(229, 50)
    hand.key(Qt.Key.Key_G)
    assert hand.words == "Nothing is in its way that it could go round."
    assert not hand.stage.placing.choice.free


def test_free_corners_take_the_chosen_kind_though_lengths_were_mixed(hand: Hand) -> None:
    hand.stage.session.do(add_net_kind("25 m nets", (5_000,) * 5, nets=9, uid="half")).result()
    hand.stage.placing.choose(free=False, group_uid="")
    hand.stage.placing.mix(True)
    hand.stage.placing.step("half", 1, wide=False)
    hand.stage.placing.choose(free=True)
    hand.tool.free.take([(200.0, 10.0), (275.0, 10.0), (275.0, 60.0), (200.0, 60.0)])
    hand.tool.judge_now()
    (found,) = hand.tool._judging.judge(hand.tool.ghost, hand.tool.placed)
    assert (found.nets_to_carry, found.nets_of_kinds) == (5, ())
