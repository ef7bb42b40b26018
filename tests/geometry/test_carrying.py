from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity

from pigmap.geometry.carrying import carried_as_one, carried_by_side, corners_after, corners_of

STANDING = shapely.box(500_000, 5_230_000, 500_050, 5_230_040)
EAST = shapely.box(500_050, 5_230_000, 500_100, 5_230_040)

metres = st.floats(-80, 80)
degrees = st.floats(-40, 40)


def side_lengths(outline: shapely.Polygon) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    corners = corners_of(outline)
    lengths: np.ndarray[tuple[int, ...], np.dtype[np.float64]] = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T)
    return lengths


def corner_moved(outline: shapely.Polygon, at: tuple[float, float], by: tuple[float, float]) -> shapely.Polygon:
    points = shapely.get_coordinates(outline)
    points[np.all(points == at, axis=1)] += by
    return shapely.Polygon(points)


def test_corners_are_each_there_once_however_the_ring_was_written() -> None:
    twice = shapely.Polygon([(0, 0), (0, 4), (3, 4), (3, 4), (3, 0)])
    assert corners_of(twice).tolist() == corners_of(shapely.orient_polygons(twice)).tolist()
    assert len(corners_of(twice)) == 4


def test_corners_go_with_those_they_became_wherever_the_new_ring_begins() -> None:
    begun_elsewhere = shapely.Polygon([(53, 41), (3, 41), (3, 1), (53, 1)])
    before = shapely.box(0, 0, 50, 40)
    assert (corners_after(before, begun_elsewhere) - corners_of(before)).tolist() == [[3.0, 1.0]] * 4


def test_where_a_corner_came_the_others_stay_what_they_were() -> None:
    before, bent = shapely.box(0, 0, 50, 40), shapely.Polygon([(0, 0), (50, 0), (70, 20), (50, 40), (0, 40)])
    assert np.array_equal(corners_after(before, bent), corners_of(before))


@given(metres, metres, degrees)
def test_what_was_shifted_and_turned_as_one_carries_everything_so(east: float, north: float, turn: float) -> None:
    after = affinity.translate(affinity.rotate(STANDING, turn, origin=(500_000, 5_230_000)), east, north)
    assert isinstance(after, shapely.Polygon)
    carry = carried_as_one(STANDING, after)
    assert carry is not None
    assert carry.shape(STANDING).hausdorff_distance(after) < 1e-6
    assert math.degrees(carry.turn) == pytest.approx(turn, abs=1e-6)


def test_a_plain_shift_turns_nothing_by_not_even_a_hair() -> None:
    carry = carried_as_one(STANDING, shapely.box(500_007, 5_229_998, 500_057, 5_230_038))
    assert carry is not None
    assert carry.turn == 0.0


@given(metres, metres, st.tuples(metres, metres), st.tuples(metres, metres))
def test_carrying_keeps_every_side_length(
    east: float, north: float, near: tuple[float, float], far: tuple[float, float]
) -> None:
    after = affinity.translate(STANDING, east, north)
    assert isinstance(after, shapely.Polygon)
    for at, by in (((500_050, 5_230_000), near), ((500_050, 5_230_040), far)):
        after = corner_moved(after, (at[0] + east, at[1] + north), (by[0] / 8, by[1] / 8))
    carry = carried_by_side(STANDING, after, EAST)
    assert carry is not None
    assert np.allclose(side_lengths(carry.shape(EAST)), side_lengths(EAST), atol=1e-6)


@pytest.mark.parametrize(
    ("corner", "stays"), [((50, 0), (50, 40)), ((50, 40), (50, 0))], ids=["south corner", "north corner"]
)
def test_a_dragged_corner_turns_the_neighbour_about_the_end_of_the_side_that_stands(
    corner: tuple[float, float], stays: tuple[float, float]
) -> None:
    before, neighbour = shapely.box(0, 0, 50, 40), shapely.box(50, 0, 100, 40)
    after = corner_moved(before, corner, (6, 0))
    carry = carried_by_side(before, after, neighbour)
    assert carry is not None
    carried = carry.shape(neighbour)
    assert any(np.allclose(each, stays) for each in corners_of(carried).tolist())
    moved = shapely.Point(corner[0] + 6, corner[1])
    side = shapely.LineString([stays, (moved.x, moved.y)])
    assert carried.exterior.intersection(side.buffer(1e-6)).length > 39.9


def test_a_corner_that_is_no_end_of_the_shared_side_moves_no_neighbour() -> None:
    before, neighbour = shapely.box(0, 0, 50, 40), shapely.box(50, 0, 100, 40)
    carry = carried_by_side(before, corner_moved(before, (0, 0), (-5, -9)), neighbour)
    assert carry is not None
    assert carry.shape(neighbour).equals(neighbour)


def test_a_neighbour_on_half_the_side_turns_about_the_corner_it_stands_at() -> None:
    before, neighbour = shapely.box(0, 0, 50, 40), shapely.box(50, 20, 100, 60)
    # Both ends move, that without the neighbour's corner less.
    after = corner_moved(corner_moved(before, (50, 0), (1, 0)), (50, 40), (2, 0))
    half = shapely.box(50, 0, 100, 20)
    carry, carried_half = carried_by_side(before, after, neighbour), carried_by_side(before, after, half)
    assert carry is not None
    assert carried_half is not None
    assert carried_half.to == (51.0, 0.0)
    assert carry.to == (52.0, 40.0)


def test_ground_that_touches_only_at_a_corner_is_not_carried() -> None:
    before = shapely.box(0, 0, 50, 40)
    after = corner_moved(before, (50, 40), (3, 3))
    assert carried_by_side(before, after, shapely.box(50, 40, 90, 80)) is None
