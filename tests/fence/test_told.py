"""Nets told for each side of a rectangle: what runs take, held against every choice there is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from itertools import product

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from pigmap.fence.extents import Fenced, laid_round, nets_round
from pigmap.fence.fitted import Spare
from pigmap.fence.of_move import KindGround, nets_of_move
from pigmap.fence.told import ToldFence, ToldSides, in_all, length_mm, nets_of_runs, told_sides
from pigmap.geometry.runs import Run, closing, open_runs
from pigmap.records import Farm, NetKind, Paddock, Projection, add
from pigmap.records.side_nets import written

FIFTY = NetKind(uid="fifty", name="50 m nets", bays_mm=(3572,) * 13 + (3564,))
HALF = NetKind(uid="half", name="25 m nets", bays_mm=(3571,) * 6 + (3574,))
SHORT = NetKind(uid="short", name="16 m nets", bays_mm=(4_000,) * 4)
KINDS = (FIFTY, HALF, SHORT)
PLAY_MM = 100


def sides_of(*sides: Sequence[tuple[NetKind, int]]) -> ToldSides:
    found = tuple(tuple(Spare(kind, nets) for kind, nets in side) for side in sides)
    return found if len(found) == 4 else found * 2


LONG = ((FIFTY, 1), (HALF, 1))
SEVENTY_FIVE_BY_FIFTY = sides_of(LONG, ((FIFTY, 1),))
OUTLINE = shapely.Polygon([(0, 0), (75, 0), (75, 50), (0, 50)])


def fence_of(outline: shapely.Polygon, sides: ToldSides, per_grid: float = 1.0) -> ToldFence:
    fence = ToldFence.of(outline, sides, per_grid)
    assert fence is not None
    return fence


def said(nets: Sequence[Spare]) -> list[tuple[str, int]]:
    return [(each.kind.uid, each.nets) for each in nets]


def test_a_ring_takes_all_the_nets_that_were_told() -> None:
    (run,) = open_runs(OUTLINE, [])
    assert said(nets_of_runs([run], FIFTY, fence_of(OUTLINE, SEVENTY_FIVE_BY_FIFTY))) == [("fifty", 4), ("half", 2)]


@pytest.mark.parametrize(
    ("beside", "carried"),
    [
        (shapely.box(0, -50, 75, 0), [("fifty", 3), ("half", 1)]),  # a long side stands
        (shapely.box(75, 0, 125, 50), [("fifty", 3), ("half", 2)]),  # a wide one
        (shapely.box(0, -50, 50, 0), [("fifty", 4)]),  # 50 m of a long one: 200 m are left
        (shapely.box(-50, 0, 0, 50), [("fifty", 3), ("half", 2)]),
    ],
)
def test_what_stands_already_takes_no_nets(beside: shapely.Polygon, carried: list[tuple[str, int]]) -> None:
    runs = closing(OUTLINE, [beside]).open
    assert said(nets_of_runs(runs, FIFTY, fence_of(OUTLINE, SEVENTY_FIVE_BY_FIFTY))) == carried


def test_opposite_sides_need_not_hold_the_same_nets() -> None:
    sides = sides_of(((FIFTY, 1),), ((HALF, 1),), ((HALF, 2),), ((HALF, 1),))
    fence = fence_of(shapely.box(0, 0, 50, 25), sides)
    above = closing(shapely.box(0, 0, 50, 25), [shapely.box(0, 25, 50, 50)]).open
    below = closing(shapely.box(0, 0, 50, 25), [shapely.box(0, -25, 50, 0)]).open
    assert said(nets_of_runs(above, FIFTY, fence)) == [("fifty", 1), ("half", 2)]
    assert said(nets_of_runs(below, FIFTY, fence)) == [("half", 4)]


def test_sides_that_were_told_for_another_length_tell_nothing() -> None:
    assert ToldFence.of(shapely.box(0, 0, 76, 50), SEVENTY_FIVE_BY_FIFTY) is None
    assert ToldFence.of(shapely.box(0, 0, 75, 50), ()) is None
    assert ToldFence.of(shapely.Polygon([(0, 0), (75, 0), (75, 50)]), SEVENTY_FIVE_BY_FIFTY) is None


def test_the_long_side_is_found_whichever_corner_comes_first() -> None:
    turned = shapely.Polygon([(75, 0), (75, 50), (0, 50), (0, 0)])
    fence = fence_of(turned, SEVENTY_FIVE_BY_FIFTY)
    assert [length_mm(side) for side in fence.sides] == [50_000, 75_000, 50_000, 75_000]


def test_posts_stand_at_the_ends_of_the_nets_that_were_told() -> None:
    fence = fence_of(OUTLINE, SEVENTY_FIVE_BY_FIFTY)
    assert fence.bays_mm == (FIFTY.bays_mm + HALF.bays_mm + FIFTY.bays_mm) * 2
    (run,) = closing(OUTLINE, [shapely.box(0, -50, 75, 0)]).open
    assert [kind.uid for kind in fence.in_order(run, fence.nets([run])[0])] == ["fifty", "fifty", "half", "fifty"]


def test_nets_stand_from_corner_to_corner_as_told() -> None:
    laid = laid_round([Fenced(OUTLINE, FIFTY, told=SEVENTY_FIVE_BY_FIFTY)], [], 1.0)
    assert [net.kind.uid for net in laid] == ["fifty", "half", "fifty"] * 2
    assert [round(net.line.length) for net in laid] == [50, 25, 50] * 2
    assert shapely.union_all([net.line for net in laid]).length == pytest.approx(250.0)


def farm_with(*paddocks: Paddock) -> Farm:
    rows = [add(kind) for kind in KINDS] + [add(paddock) for paddock in paddocks]
    return Farm(document_uid="", projection=Projection(name="", authority="NONE", code=0, definition="")).after(rows)


TOLD = Paddock(
    uid="told",
    name="Told",
    outline=OUTLINE,
    net_kind_uid="fifty",
    side_nets=written([(("fifty", 1), ("half", 1)), (("fifty", 1),)]),
)


def test_a_move_sets_the_nets_of_the_sides() -> None:
    farm = farm_with(TOLD)
    old = KindGround(shapely.box(0, -50, 75, 0), FIFTY)
    nets = nets_of_move(farm, KindGround(OUTLINE, FIFTY, "told"), old, (), date(2026, 6, 1))
    assert [(each.kind and each.kind.uid, each.count, each.length_m) for each in nets.to_set] == [
        ("fifty", 3, 150.0),
        ("half", 1, 25.0),
    ]


def test_nets_that_no_record_tells_of_stand_as_told() -> None:
    farm = farm_with(TOLD)
    found = nets_round(farm, [Fenced(OUTLINE, FIFTY, "told")], date(2026, 6, 1))
    assert Counter(net.kind.uid for net in found) == {"fifty": 4, "half": 2}


def test_of_a_kind_that_is_gone_nothing_is_told() -> None:
    farm = farm_with(replace(TOLD, side_nets=("1 fifty, 1 gone", "1 fifty")))
    assert told_sides(farm, farm.paddocks["told"]) == ()
    assert told_sides(farm, None) == ()


# By brute force: every choice of the nets that were told for the sides a run goes along


def every_choice(told: Sequence[Spare]) -> Iterator[tuple[int, ...]]:
    return product(*(range(each.nets + 1) for each in told))


def best_by_trying(need_mm: int, told: Sequence[Spare]) -> tuple[int, int]:
    """Return the least length of nets that closes a run, and the fewest nets of that length."""
    reach = [
        (sum(count * sum(each.kind.bays_mm) for count, each in zip(counts, told, strict=True)), sum(counts))
        for counts in every_choice(told)
    ]
    return min(each for each in reach if each[0] >= need_mm - PLAY_MM)


SIDE = st.lists(st.tuples(st.sampled_from(KINDS), st.integers(1, 2)), min_size=1, max_size=2, unique_by=lambda e: e[0])


@settings(max_examples=300, deadline=None)
@given(
    st.tuples(SIDE, SIDE),
    st.integers(0, 3),
    st.floats(0.0, 1.0),
    st.floats(0.05, 1.0),
    st.floats(0.0, 360.0),
    st.booleans(),
)
def test_a_run_takes_what_trying_every_choice_takes(
    sides: tuple[list[tuple[NetKind, int]], list[tuple[NetKind, int]]],
    shared: int,
    at: float,
    share: float,
    turned: float,
    mirrored: bool,
) -> None:
    told = sides_of(*sides)
    lengths = [length_mm(side) / 1000 for side in told]
    outline = shapely.box(0, 0, lengths[0], lengths[1])
    begin, end = shapely.get_coordinates(shapely.orient_polygons(outline).exterior)[[shared, shared + 1]]
    low = at * (1.0 - share)
    line = shapely.LineString([begin + low * (end - begin), begin + (low + share) * (end - begin)])
    beside = line.buffer(20.0, single_sided=True, cap_style="flat", join_style="mitre")
    beside = line.buffer(-20.0, single_sided=True) if beside.intersection(outline).area > 1 else beside
    shapes = [affinity.rotate(shape, turned, origin=(0, 0)) for shape in (outline, beside)]
    if mirrored:
        shapes = [affinity.scale(shape, -1, 1, origin=(0, 0)) for shape in shapes]
    runs = closing(shapes[0], [shapes[1]]).open
    fence = fence_of(shapes[0], told)
    met = {side for run in runs for side in fence._sides_of(run)}
    for run, nets in zip(runs, fence.nets(runs), strict=True):
        assert (length_mm(nets), sum(each.nets for each in nets)) == best_by_trying(
            run.length_mm, in_all([fence.sides[side] for side in met])
        )


@given(st.integers(1, 3), st.integers(1, 3))
def test_sides_told_of_one_kind_take_what_one_kind_takes(long: int, wide: int) -> None:
    outline = shapely.box(0, 0, 50 * long, 50 * wide)
    told = sides_of([(FIFTY, long)], [(FIFTY, wide)])
    for standing in ([], [shapely.box(-50, 0, 0, 50)], [shapely.box(0, -50, 50 * long, 0)]):
        runs = closing(outline, standing).open
        assert nets_of_runs(runs, FIFTY, fence_of(outline, told)) == nets_of_runs(runs, FIFTY)


def test_ground_metres_count_where_the_grid_is_shorter() -> None:
    per_grid = 1.0004
    outline = affinity.scale(OUTLINE, 1 / per_grid, 1 / per_grid, origin=(0, 0))
    fence = fence_of(outline, SEVENTY_FIVE_BY_FIFTY, per_grid)
    assert said(nets_of_runs(open_runs(outline, [], per_grid), FIFTY, fence)) == [("fifty", 4), ("half", 2)]


def test_two_runs_along_one_side_have_each_its_own_nets() -> None:
    middles = [shapely.box(35, -20, 40, 0), shapely.box(-20, -1, 0, 51), shapely.box(75, -1, 95, 51)]
    runs = closing(OUTLINE, [*middles, shapely.box(-1, 50, 76, 70)]).open
    assert [run.length_mm for run in runs] == [35_000, 35_000]
    fence = fence_of(OUTLINE, sides_of([(FIFTY, 1), (HALF, 1)], [(FIFTY, 1)]))
    assert said(nets_of_runs(runs, FIFTY, fence)) == [("fifty", 2)]


def test_a_run_that_meets_nothing_takes_nothing() -> None:
    assert nets_of_runs([], FIFTY, fence_of(OUTLINE, SEVENTY_FIVE_BY_FIFTY)) == ()
    assert nets_of_runs([], FIFTY) == ()
    assert Run(np.zeros((2, 2)), 0).length_mm == 0
