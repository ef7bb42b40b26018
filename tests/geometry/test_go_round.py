"""Outlines that go round what is kept out of them."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from pigmap.geometry.go_round import SIDES, gone_round

GROUND = shapely.box(0, 0, 50, 50)


def test_a_tree_at_the_side_makes_a_notch() -> None:
    tree = shapely.Point(50, 25).buffer(6)
    found = gone_round(GROUND, [tree])
    assert found is not None
    assert not found.intersects(tree)
    assert found.distance(tree) < 1.5
    assert len(found.exterior.coords) - 1 <= 4 + SIDES


def test_a_tree_that_was_enclosed_is_left_outside_by_the_nearest_side() -> None:
    tree = shapely.Point(35, 25).buffer(5)
    found = gone_round(GROUND, [tree])
    assert found is not None
    assert not found.interiors
    assert not found.contains(shapely.Point(35, 25))
    assert not found.intersects(tree)
    assert found.contains(shapely.Point(20, 25))
    assert not found.contains(shapely.Point(49, 25))


def test_a_pond_of_any_shape_is_gone_round() -> None:
    pond = shapely.Polygon([(30, -5), (60, 0), (55, 20), (40, 12)])
    found = gone_round(GROUND, [pond])
    assert found is not None
    assert not found.intersects(pond)


def test_few_corners_go_round_a_pond_that_is_drawn_with_many() -> None:
    pond = affinity.scale(shapely.Point(50, 25).buffer(10, quad_segs=16), 1.0, 1.7)
    found = gone_round(GROUND, [pond])
    assert found is not None
    assert not found.intersects(pond)
    assert len(found.exterior.coords) - 1 <= 10
    assert found.area > 0.8 * GROUND.difference(pond).area


def test_where_too_little_is_left_there_is_none() -> None:
    assert gone_round(GROUND, [shapely.box(10, -5, 60, 60)]) is None
    assert gone_round(GROUND, [shapely.box(-5, -5, 60, 60)]) is None


def test_what_nothing_touches_stays_as_it_is() -> None:
    found = gone_round(GROUND, [shapely.Point(80, 25).buffer(5)])
    assert found is not None
    assert found.equals(GROUND)


@settings(max_examples=100, deadline=None)
@given(
    st.lists(st.tuples(st.floats(-5, 55), st.floats(-5, 55), st.floats(1, 8)), min_size=1, max_size=3),
    st.floats(0, 360),
)
def test_whatever_trees_there_are_none_is_touched_and_it_is_one_ground(
    trees: list[tuple[float, float, float]], turned: float
) -> None:
    ground = affinity.rotate(GROUND, turned, origin=(25, 25))
    kept = [shapely.Point(x, y).buffer(radius, quad_segs=16) for x, y, radius in trees]
    found = gone_round(ground, kept)
    if found is not None:
        assert found.is_valid
        assert not found.interiors
        assert found.area >= 0.4 * ground.area
        assert found.within(ground.buffer(0.1))
        assert all(found.distance(tree) > 0.0 for tree in kept)


@pytest.mark.parametrize("count", [0, 1])
def test_it_is_walked_anticlockwise(count: int) -> None:
    found = gone_round(shapely.Polygon([(0, 0), (0, 50), (50, 50), (50, 0)]), [shapely.Point(50, 25).buffer(6)] * count)
    assert found is not None
    assert found.exterior.is_ccw
