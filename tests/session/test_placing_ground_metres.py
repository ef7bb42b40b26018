"""Distances and nets while placing, on coordinates whose metres are 1.25 m of ground each."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
import shapely

from pigmap.document.edits import add_keep_out, add_way, place_paddock, record_stay
from pigmap.fence.books import Books
from pigmap.geometry.rectangle import Rectangle
from pigmap.records import Edit, Farm, Reason, WayKind
from pigmap.session.placing import Judgement, judge
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, done, example

GROUND_PER_GRID = 1.25
MOVE = DAY + timedelta(days=5)
OLD = Rectangle(20.0, 10.0, 0.0, 50_000, 50_000, GROUND_PER_GRID)
NEW = Rectangle(60.0, 10.0, 0.0, 50_000, 50_000, GROUND_PER_GRID)
"""A net is 40 grid metres long, so it shares the whole west side and ends at 100 east."""


def farm(*edits: Edit) -> Farm:
    flat = example()
    wide = replace(flat, projection=replace(flat.projection, ground_per_grid=GROUND_PER_GRID))
    old = place_paddock(OLD, net_kind_uid=KIND, uid="old")
    return done(wide, old, record_stay(GROUP, "old", DAY), *edits)


def judged(on: Farm) -> Judgement:
    return judge(on, {}, NEW, on.net_kinds[KIND], MOVE, group_uid=GROUP)


def line(grid_m: float) -> Edit:
    """Return an overhead line of 11 kV, which wants 4 m of ground, so far east of the new paddock."""
    return add_way(
        WayKind.OVERHEAD_LINE, shapely.LineString([(100 + grid_m, -50), (100 + grid_m, 200)]), voltage_kv=11.0
    )


def test_whole_nets_share_a_whole_side() -> None:
    found = judged(farm())
    assert (found.nets_to_carry, found.nets_to_leave, found.area_m2) == (3, 1, 2500.0)


@pytest.mark.parametrize(("grid_m", "near"), [(3.3, None), (3.0, "3.8 m"), (1.0, "1.3 m")])
def test_the_distance_from_an_overhead_line_is_one_of_the_ground(grid_m: float, near: str | None) -> None:
    found = judged(farm(line(grid_m)))
    assert found.hard is (near is not None)
    if near is not None:
        assert str(found.warnings[0].text).startswith(f"The east side comes within {near} of the overhead line.")


def test_posts_to_shift_are_as_far_apart_as_the_net_has_them_on_the_ground() -> None:
    # 8 grid metres are 10 m of ground; posts stand 3.571 m apart.
    pond = add_keep_out(shapely.box(90, 0, 140, 18), Reason.POND)
    assert [str(warning.remedy) for warning in judged(farm(pond)).warnings] == ["Set it 3 posts north."]


def test_nets_that_stand_are_counted_by_their_length_on_the_ground() -> None:
    two_by_two = Rectangle(150.0, 10.0, 0.0, 100_000, 100_000, GROUND_PER_GRID)
    on = farm(place_paddock(two_by_two, net_kind_uid=KIND, uid="big"), record_stay(OTHERS, "big", DAY))
    assert Books(on, DAY).counts(DAY) == {KIND: 4 + 8}
