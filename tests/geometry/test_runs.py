from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from pigmap.fence.count import nets_for
from pigmap.geometry.rectangle import Rectangle
from pigmap.geometry.runs import closing, open_runs, shared_runs
from pigmap.geometry.sides import sides_of
from pigmap.records import NetKind

FIFTY = NetKind(name="50 m nets", bays_mm=(3572,) * 13 + (3564,))


def square(x: float = 0.0, y: float = 0.0, side: float = 50.0) -> shapely.Polygon:
    return shapely.box(x, y, x + side, y + side)


def lengths(outline: shapely.Polygon, *standing: shapely.Polygon) -> list[int]:
    return [run.length_mm for run in open_runs(outline, standing)]


def test_the_first_square_is_one_run_that_ends_where_it_began() -> None:
    (run,) = open_runs(square(), [])
    assert (run.length_mm, run.ring, nets_for([run], FIFTY)) == (200_000, True, 4)
    assert run.line[0].tolist() == run.line[-1].tolist()


def test_a_square_that_shares_a_side_takes_three_nets_in_one_run() -> None:
    closed = closing(square(50), [square()])
    (run,), (shared,) = closed.open, closed.shared
    assert (run.length_mm, shared.length_mm) == (150_000, 50_000)
    assert nets_for([run], FIFTY) == 3
    assert len(run.line) == 4
    assert sorted(map(tuple, shared.line.tolist())) == [(50.0, 0.0), (50.0, 50.0)]


def test_a_half_side_counts_by_its_run() -> None:
    (run,) = open_runs(square(50, 25), [square()])
    assert (run.length_mm, nets_for([run], FIFTY)) == (175_000, 4)


def test_an_oblong_that_shares_its_long_side_takes_five() -> None:
    old, new = shapely.box(0, 0, 110, 65), shapely.box(0, 65, 110, 130)
    (run,) = open_runs(new, [old])
    assert (run.length_mm, nets_for([run], FIFTY)) == (240_000, 5)


@pytest.mark.parametrize("first", range(4))
def test_the_run_is_the_same_wherever_the_outline_begins(first: int) -> None:
    corners = list(square(50).exterior.coords)[:-1]
    outline = shapely.Polygon(corners[first:] + corners[:first])
    assert lengths(outline, square()) == [150_000]
    assert lengths(shapely.Polygon(outline.exterior.coords[::-1]), square()) == [150_000]


def test_an_inner_corner_shares_two_sides_as_one_run() -> None:
    closed = closing(square(50, 50), [square(0, 50), square(50, 0)])
    assert [run.length_mm for run in closed.shared] == [100_000]
    assert [run.length_mm for run in closed.open] == [100_000]


def test_a_gap_between_two_neighbours_leaves_two_runs() -> None:
    assert sorted(lengths(square(50), square(0), square(100))) == [50_000, 50_000]


def test_what_is_closed_all_round_is_open_nowhere() -> None:
    closed = closing(square(), [square()])
    assert closed.open == ()
    assert [(run.length_mm, run.ring) for run in closed.shared] == [(200_000, True)]


def test_squares_that_meet_at_a_corner_share_nothing() -> None:
    assert lengths(square(50, 50), square()) == [200_000]
    assert shared_runs(square(50, 50), [square()]) == ()


def test_two_neighbours_in_a_line_close_one_long_side_without_a_gap() -> None:
    assert lengths(shapely.box(0, 50, 100, 100), square(0), square(50)) == [200_000]


@pytest.mark.parametrize(("apart", "shared"), [(0.0, 50_000), (0.09, 50_000), (-0.09, 50_000), (0.11, 0)])
def test_sides_count_as_one_up_to_ten_centimetres(apart: float, shared: int) -> None:
    assert sum(run.length_mm for run in shared_runs(square(50 + apart), [square()])) == shared


@pytest.mark.parametrize(("turned", "shares"), [(0.0, True), (0.08, True), (0.6, False), (2.0, False)])
def test_sides_at_an_angle_do_not_count_as_one(turned: float, shares: bool) -> None:
    new = affinity.rotate(square(50, side=10), turned, origin=(50, 0))
    assert bool(shared_runs(new, [square(40, side=10)])) is shares


def test_ends_within_the_play_of_a_net_are_the_corner() -> None:
    assert lengths(square(50, 0.06), square()) == [150_000]


def test_a_fence_closes_a_side_when_it_is_named() -> None:
    fence = shapely.LineString([(-100, 0), (100, 0)])
    assert [run.length_mm for run in open_runs(square(), [fence])] == [150_000]


def test_a_hole_in_the_ground_is_a_run_of_its_own() -> None:
    outline = square().difference(square(20, 20, 10))
    assert isinstance(outline, shapely.Polygon)
    assert sorted(run.length_mm for run in open_runs(outline, [])) == [40_000, 200_000]


def test_the_index_answers_as_the_shapes_do() -> None:
    standing = [square(0), square(50, 50), square(900)]
    assert [run.length_mm for run in open_runs(square(50), sides_of(standing))] == lengths(square(50), *standing)


PLACES = st.tuples(st.floats(-4e6, 1e7), st.floats(-4e6, 1e7))


@settings(max_examples=150)
@given(
    at=PLACES,
    turned=st.floats(0, 360),
    grid=st.floats(0.999, 1.001),
    sides=st.tuples(st.integers(1, 4), st.integers(1, 4)),
    shift=st.integers(0, 13),
    backwards=st.booleans(),
)
def test_turning_and_moving_the_farm_changes_no_count(
    at: tuple[float, float], turned: float, grid: float, sides: tuple[int, int], shift: int, backwards: bool
) -> None:
    def count(
        corner: tuple[float, float], turned_deg: float, ground_per_grid: float
    ) -> tuple[list[int], list[int], int]:
        old = Rectangle.of_nets(corner, turned_deg, sides, FIFTY.length_mm, ground_per_grid)
        new = old.shifted(sum(FIFTY.bays_mm[:shift]), (-1 if backwards else 1) * old.wide_mm)
        closed = closing(new.outline, [old.outline], ground_per_grid)
        return (
            [run.length_mm for run in closed.open],
            [run.length_mm for run in closed.shared],
            nets_for(closed.open, FIFTY),
        )

    straight = count((0.0, 0.0), 0.0, 1.0)
    assert count(at, turned, grid) == straight
    long_mm, wide_mm = sides[0] * FIFTY.length_mm, sides[1] * FIFTY.length_mm
    shared = long_mm - sum(FIFTY.bays_mm[:shift])
    assert straight[0] == [2 * (long_mm + wide_mm) - shared]


@settings(max_examples=60)
@given(at=PLACES, turned=st.floats(0, 360))
def test_turning_shapes_that_were_drawn_changes_no_count(at: tuple[float, float], turned: float) -> None:
    old, new = shapely.box(0, 0, 110, 65), shapely.box(20, 65, 130, 130)

    def moved(shape: shapely.Polygon) -> shapely.Polygon:
        points = shapely.get_coordinates(shape)
        angle = np.radians(turned)
        turn = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
        return shapely.Polygon(points @ turn + np.array(at))

    assert [run.length_mm for run in open_runs(moved(new), [moved(old)])] == [260_000]
