from __future__ import annotations

import pytest
import shapely

from pigmap.fence.cautions.caution import Caution
from pigmap.fence.cautions.wildlife import along_wild_edges, wild_edges
from pigmap.records import Field, GroundCover, KeepOut, Reason, Record, WayKind
from tests.fence.cautions.invented import HERE, farm_with, said, upright


def found(*rows: Record) -> Caution | None:
    farm = farm_with(*rows)
    return along_wild_edges(farm, HERE, wild_edges(farm))


def wood(west: float, cover: GroundCover = GroundCover.WOODLAND) -> Field:
    return Field(
        name="Bank Wood",
        ground_cover=cover,
        outline=shapely.MultiPolygon([shapely.box(west, 0, west + 90, 90)]),
        origin_x_m=0,
        origin_y_m=0,
        turned_deg=0,
    )


@pytest.mark.parametrize("kind", [WayKind.WATERCOURSE, WayKind.DITCH, WayKind.RIDE, WayKind.HEDGE])
def test_a_side_along_water_a_ride_or_a_hedge_is_worth_a_look(kind: WayKind) -> None:
    assert found(upright(kind, 54.9)) is not None
    assert found(upright(kind, 55.1)) is None


def test_a_side_along_the_edge_of_a_wood_counts_and_one_of_a_meadow_does_not() -> None:
    assert found(wood(54.9)) is not None
    assert found(wood(55.1)) is None
    assert found(wood(52.0, GroundCover.LEY)) is None


def test_a_corner_that_touches_is_no_side() -> None:
    for far, some in ((40.1, True), (45.1, False)):  # 9.9 and 4.9 m of the side, and what lies aslant
        line = shapely.LineString([(54.0, far), (54.0, 90)])
        ride = upright(WayKind.RIDE, 54.0)
        moved = type(ride)(kind=WayKind.RIDE, line=line)
        assert (found(moved) is not None) is some


def test_all_of_it_is_one_sentence() -> None:
    pond = KeepOut(reason=Reason.POND, shape=shapely.box(52, 0, 60, 50))
    one = found(upright(WayKind.WATERCOURSE, 53, name="Brook"), upright(WayKind.RIDE, -3), wood(51), pond)
    assert one is not None
    assert (one.id, one.level, one.held) == ("W12", "note", "care")
    assert said(one) == [
        (
            "North 3 has a side along Brook, the ride, the edge of Bank Wood and the pond, where wild animals pass.",
            "Look along that side first every day, hang bright tape on it, and take the nets away when pigs leave.",
        )
    ]


def test_water_that_it_reaches_into_is_told_of_as_a_keep_out() -> None:
    assert found(KeepOut(reason=Reason.POND, shape=shapely.box(49, 0, 60, 50))) is None
    assert found(KeepOut(reason=Reason.STEEP, shape=shapely.box(51, 0, 60, 50))) is None
