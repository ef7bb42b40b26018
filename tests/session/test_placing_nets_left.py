"""Nets that must stay up beside the place of a new paddock."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
import shapely

from pigmap.document.edits import place_paddock, record_net_use, record_stay
from pigmap.geometry.rectangle import Rectangle
from pigmap.records import Edit, Farm
from pigmap.session.placing import Judgement, judge
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, PADDOCK, done, example, square

MOVE = DAY + timedelta(days=5)
OLD = Rectangle(10.0, 10.0, 0.0, 100_000, 50_000)
MIDDLE = Rectangle(35.0, 60.0, 0.0, 50_000, 50_000)


def long_side(*edits: Edit, old: Rectangle = OLD) -> Farm:
    """Return the farm with the group in a paddock of two nets by one."""
    return done(example(), place_paddock(old, net_kind_uid=KIND, uid="long"), record_stay(GROUP, "long", DAY), *edits)


def judged(on: Farm, new: Rectangle, *also: Rectangle) -> Judgement:
    return judge(on, {}, new, on.net_kinds[KIND], MOVE, group_uid=GROUP, also_standing=also)


def nets(found: Judgement) -> tuple[int, int]:
    return found.nets_to_carry, found.nets_to_leave


def test_in_the_middle_of_two_nets_both_are_left() -> None:
    assert nets(judged(long_side(), MIDDLE)) == (3, 2)
    assert nets(judged(long_side(), replace(MIDDLE, corner_x_m=10.0))) == (3, 1)
    assert nets(judged(long_side(), replace(MIDDLE, corner_x_m=60.06))) == (3, 1)


@pytest.mark.parametrize("turned", [17.0, 90.0, -130.0])
def test_in_a_turned_field_too(turned: float) -> None:
    old = replace(OLD, turned_deg=turned)
    (ux, uy), (vx, vy) = old.axes
    new = Rectangle(10 + 25 * ux + 50 * vx, 10 + 25 * uy + 50 * vy, turned, 50_000, 50_000)
    assert nets(judged(long_side(old=old), new)) == (3, 2)


def test_where_each_net_is_recorded_that_counts() -> None:
    runs = ([(85, 60), (35, 60)], [(35, 60), (10, 60), (10, 35)], [(110, 35), (110, 60), (85, 60)])
    on = long_side(*(record_net_use("long", KIND, shapely.LineString(run), DAY) for run in runs))
    assert nets(judged(on, MIDDLE)) == (3, 1)


def test_between_two_that_stand_each_leaves_its_net() -> None:
    on = done(
        example(),
        record_stay(GROUP, PADDOCK, DAY),
        place_paddock(square(2), net_kind_uid=KIND, uid="c"),
        record_stay(OTHERS, "c", DAY),
    )
    assert nets(judged(on, square(1))) == (2, 2)


def test_along_two_that_share_a_side_each_net_is_left_once() -> None:
    on = done(
        example(),
        record_stay(GROUP, PADDOCK, DAY),
        place_paddock(square(1), net_kind_uid=KIND, uid="b"),
        record_stay(OTHERS, "b", DAY),
    )
    assert nets(judged(on, Rectangle(10.0, 60.0, 0.0, 100_000, 50_000))) == (4, 2)
    assert nets(judged(on, MIDDLE)) == (3, 2)


def test_in_the_middle_of_the_paddock_before_it_in_a_row_both_nets_are_left() -> None:
    assert nets(judged(example(), MIDDLE, OLD)) == (3, 2)
