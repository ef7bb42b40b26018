from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from pigmap.geometry.corner_snap import CornerSnap
from pigmap.geometry.sides import Sides, edges_of, sides_of

NONE = Sides(np.empty((0, 2, 2)))
STANDING = sides_of([shapely.box(0, 0, 100, 50)])
BAYS = (2_000,) * 10


def snap(standing: Sides = STANDING, lines: Sides = NONE) -> CornerSnap:
    return CornerSnap(standing, lines, BAYS)


def by_two(length: float) -> float:
    """Return the length to the nearest post where one stands every 2 m."""
    return max(round(length / 2), 1) * 2.0


def test_a_corner_that_is_there_comes_before_the_side() -> None:
    assert snap().at(98, 51, [], 3, by_two) == ((100.0, 50.0), "corner")


def test_on_a_side_that_stands_it_slides_from_post_to_post() -> None:
    caught = snap().at(31.2, 51, [], 3, by_two)
    assert caught.by == "side"
    assert caught.point == pytest.approx((32.0, 50.0))


def test_on_a_side_that_stands_the_end_of_a_net_draws_it_more() -> None:
    assert snap().at(42.0, 51, [], 3, by_two).point == pytest.approx((40.0, 50.0))


def test_on_a_fence_it_keeps_whole_posts_from_the_last_corner() -> None:
    fence = Sides(edges_of([shapely.LineString([(0, 100), (200, 100)])]))
    caught = snap(NONE, fence).at(49.3, 99, [(20.0, 60.0)], 3, by_two)
    assert caught.by == "side"
    assert caught.point[1] == pytest.approx(100.0)
    assert math.dist(caught.point, (20.0, 60.0)) == pytest.approx(50.0)


def test_a_fence_too_near_for_a_post_is_met_where_the_pointer_is() -> None:
    fence = Sides(edges_of([shapely.LineString([(0, 100), (200, 100)])]))
    caught = snap(NONE, fence).at(20.5, 99.5, [(20.0, 98.9)], 3, lambda _: 1.0)
    assert caught.point == pytest.approx((20.5, 100.0))


def test_square_to_the_side_before_it_it_goes_on_in_whole_posts() -> None:
    caught = snap(NONE).at(31, 17.4, [(0.0, 0.0), (30.0, 0.0)], 4, by_two)
    assert caught.point == pytest.approx((30.0, 18.0))
    assert caught.by == "angle"


def test_off_a_side_it_goes_square_to_that_side() -> None:
    caught = snap().at(41, 70.6, [(40.0, 50.0)], 4, by_two)
    assert caught.by == "angle"
    assert caught.point == pytest.approx((40.0, 70.0))


def test_elsewhere_the_direction_stays_and_the_length_is_whole_posts() -> None:
    caught = snap(NONE).at(30, 40.8, [(0.0, 0.0)], 2, by_two)
    assert caught.by == "post"
    assert math.dist(caught.point, (0, 0)) == pytest.approx(50.0)
    assert math.atan2(*caught.point[::-1]) == pytest.approx(math.atan2(40.8, 30))


def test_the_first_corner_closes_once_there_are_three() -> None:
    points = [(200.0, 200.0), (220.0, 200.0), (220.0, 220.0)]
    assert snap().at(201, 201, points, 3, by_two) == ((200.0, 200.0), "first")
    assert snap().at(201, 201, points[:2], 3, by_two).by != "first"


def test_without_a_reach_it_is_where_the_pointer_is() -> None:
    assert snap().at(99.3, 50.4, [(0.0, 0.0)], 0, by_two) == ((99.3, 50.4), "free")
