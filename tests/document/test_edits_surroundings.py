from __future__ import annotations

import pytest
import shapely

from pigmap.document.edits import add_keep_out, add_place, add_way, move_place, reshape_keep_out, reshape_way
from pigmap.errors import EditError
from pigmap.records import PlaceKind, Reason, WayKind
from tests.document.example_farm import done, empty, only


def test_keep_outs_ways_and_places_are_added_with_their_columns() -> None:
    farm = done(
        empty(),
        add_keep_out(shapely.box(0, 0, 5, 5), Reason.POND, name="Mill Pond", net_m=6.0),
        add_way(WayKind.OVERHEAD_LINE, shapely.LineString([(0, 0), (9, 9)]), voltage_kv=11.0),
        add_place(PlaceKind.GATE, shapely.Point(1, 2), name="Top gate"),
    )
    assert only(farm.keep_outs).net_m == 6.0
    assert only(farm.ways).voltage_kv == 11.0
    assert only(farm.places).name == "Top gate"


def test_shapes_follow_what_is_drawn_anew() -> None:
    farm = done(
        empty(),
        add_keep_out(shapely.box(0, 0, 5, 5), Reason.POND, uid="k"),
        add_way(WayKind.PATH, shapely.LineString([(0, 0), (9, 9)]), uid="w"),
        add_place(PlaceKind.GATE, shapely.Point(1, 2), uid="p"),
        reshape_keep_out("k", shapely.box(0, 0, 7, 7)),
        reshape_way("w", shapely.LineString([(0, 0), (3, 4)])),
        move_place("p", shapely.Point(8, 8)),
    )
    assert farm.keep_outs["k"].shape.area == 49
    assert farm.ways["w"].line.length == 5
    assert farm.places["p"].point.x == 8


def test_a_point_that_keeps_nothing_out_is_refused() -> None:
    with pytest.raises(EditError) as refused:
        add_keep_out(shapely.Point(0, 0), Reason.WELL)
    assert str(refused.value) == (
        "The keep-out (well) is a line or a point, so it keeps nothing out. Give it a radius, or draw it as an area."
    )
    add_keep_out(shapely.Point(0, 0), Reason.WELL, net_m=50.0)


def test_a_keep_out_that_crosses_itself_is_refused() -> None:
    with pytest.raises(EditError) as refused:
        add_keep_out(shapely.Polygon([(0, 0), (1, 1), (1, 0), (0, 1)]), Reason.POND)
    assert str(refused.value) == (
        "The edge of the keep-out (pond) crosses itself. Move a corner so that it goes round once."
    )


@pytest.mark.parametrize(
    ("edit", "kind"),
    [
        (reshape_keep_out("x", shapely.box(0, 0, 1, 1)), "keep-out"),
        (reshape_way("x", shapely.LineString([(0, 0), (1, 1)])), "way"),
        (move_place("x", shapely.Point(0, 0)), "place"),
    ],
)
def test_what_is_gone_is_said_to_be_gone(edit: object, kind: str) -> None:
    with pytest.raises(EditError) as refused:
        done(empty(), edit)  # type: ignore[arg-type]
    assert str(refused.value) == (
        f"The {kind} is not there any more: it was removed meanwhile. Undo brings it back, or choose another {kind}."
    )
