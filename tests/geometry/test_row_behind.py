from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import affinity

from pigmap.geometry.carrying import corners_of
from pigmap.geometry.row_behind import along_new_edge, hang_on, row_behind
from pigmap.geometry.runs import shared_runs

STANDING = shapely.box(0, 0, 50, 40)
ROW = [shapely.box(50, 0, 100, 40), shapely.box(50, 40, 100, 80), shapely.box(0, 40, 50, 80)]


def moved(shape: shapely.Polygon, east: float, north: float) -> shapely.Polygon:
    found = affinity.translate(shape, east, north)
    assert isinstance(found, shapely.Polygon)
    return found


def test_a_row_hangs_on_as_far_as_each_shares_a_side_with_the_one_before() -> None:
    assert hang_on(STANDING, ROW) == 3
    assert hang_on(STANDING, [ROW[0], shapely.box(200, 0, 250, 40), ROW[1]]) == 1
    # It shares a side with what stands, but not with the one before it.
    assert hang_on(STANDING, [ROW[0], shapely.box(-50, 0, 0, 40)]) == 1


@pytest.mark.parametrize(
    "apart",
    [shapely.box(51, 0, 100, 40), shapely.box(50, 40, 100, 80), shapely.box(50, 39.5, 100, 80)],
    ids=["a metre off", "at a corner", "half a metre of a side"],
)
def test_what_shares_no_side_stays_where_it_is(apart: shapely.Polygon) -> None:
    assert hang_on(STANDING, [apart]) == 0
    found = row_behind(STANDING, moved(STANDING, 4, 0), [apart])
    assert (found.outlines, found.carry) == ((), None)


def test_a_shift_carries_the_whole_row_by_the_same() -> None:
    found = row_behind(STANDING, moved(STANDING, 4, -3), ROW)
    assert all(each.equals(moved(was, 4, -3)) for each, was in zip(found.outlines, ROW, strict=True))


@given(st.floats(-6, 6), st.floats(-6, 6), st.floats(-6, 6), st.floats(-6, 6))
def test_turning_and_shifting_keeps_every_side_length_and_the_shared_side(
    near_east: float, near_north: float, far_east: float, far_north: float
) -> None:
    after = shapely.Polygon([(0, 0), (50 + near_east, near_north), (50 + far_east, 40 + far_north), (0, 40)])
    side = shapely.LineString([(50 + near_east, near_north), (50 + far_east, 40 + far_north)])
    assume(abs(side.length - 40) > 0.2)  # else it may be a side moved as one, and that is another test
    found = row_behind(STANDING, after, ROW)
    assert len(found.outlines) == len(ROW)
    for each, was in zip(found.outlines, ROW, strict=True):
        for one, other in zip(_sides(each), _sides(was), strict=True):
            assert one == pytest.approx(other, abs=1e-6)
    shared = sum(run.length_m for run in shared_runs(found.outlines[0], [after]))
    assert shared == pytest.approx(min(side.length, 40), abs=0.11)
    assert hang_on(found.outlines[0], found.outlines[1:]) == 2


def _sides(outline: shapely.Polygon) -> list[float]:
    corners = corners_of(outline)
    return sorted(np.hypot(*(np.roll(corners, -1, axis=0) - corners).T).tolist())


NEW = shapely.Polygon([(0, 0), (60, 0), (50, 40), (0, 40)])


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ([(0, 0), (25, 0)], [(0, 0), (30, 0)]),
        ([(25, 0), (0, 0)], [(30, 0), (0, 0)]),
        ([(25, 0), (50, 0), (50, 20)], [(30, 0), (60, 0), (55, 20)]),
        ([(50, 20), (50, 0), (25, 0)], [(55, 20), (60, 0), (30, 0)]),
        ([(0, 10), (0, 0), (10, 0)], [(0, 10), (0, 0), (12, 0)]),
        ([(10, 0), (0, 0), (0, 10)], [(12, 0), (0, 0), (0, 10)]),
    ],
)
def test_a_net_goes_along_the_new_edge_round_the_same_corners(
    line: list[tuple[float, float]], expected: list[tuple[float, float]]
) -> None:
    found = along_new_edge(shapely.LineString(line), STANDING, NEW)
    assert np.allclose(shapely.get_coordinates(found), expected)


def test_a_line_round_the_whole_edge_goes_round_the_whole_new_one() -> None:
    found = along_new_edge(shapely.LineString(STANDING.exterior), STANDING, NEW)
    assert shapely.Polygon(found.coords).equals(NEW)


def test_nets_go_round_a_corner_that_came() -> None:
    bent = shapely.Polygon([(0, 0), (50, 0), (70, 20), (50, 40), (0, 40)])
    found = along_new_edge(shapely.LineString([(50, 0), (50, 40)]), STANDING, bent)
    assert np.allclose(shapely.get_coordinates(found), [(50, 0), (70, 20), (50, 40)])
