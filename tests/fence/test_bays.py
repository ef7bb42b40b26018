from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from pigmap.fence.bays import corner_in_whole_bays, posts_to, reversed_run, set_so_far_mm, walked_run
from pigmap.geometry.runs import Run
from pigmap.geometry.sides import sides_of

FIFTY = (3572,) * 13 + (3564,)
TWO = (2_000,) * 10
CLOSERS = sides_of([shapely.box(0, 0, 100, 50)])


def run(*points: tuple[float, float]) -> Run:
    line = np.array(points)
    return Run(line, round(float(np.hypot(*np.diff(line, axis=0).T).sum()) * 1000))


def test_posts_go_on_from_net_to_net() -> None:
    posts = posts_to(51_000, FIFTY)
    assert posts[13:] == [46_436, 50_000, 53_572, 57_144]


def test_a_corner_at_a_post_needs_no_stake_and_one_between_does() -> None:
    found = walked_run(run((0, 0), (8, 0), (8, 5), (0, 5)), TWO)
    assert [(corner.point, corner.off_mm, corner.own_stake) for corner in found.corners] == [
        ((8.0, 0.0), 0, False),
        ((8.0, 5.0), 1000, True),
    ]


def test_what_is_over_the_last_whole_bay_is_known() -> None:
    found = walked_run(run((0, 0), (8, 0), (8, 5.2)), TWO)
    assert (found.bays, found.over_mm, found.short_mm, found.whole) == (6, 1200, 800, False)


@pytest.mark.parametrize(("length", "whole"), [(12.0, True), (12.25, True), (11.75, True), (11.0, False)])
def test_two_hands_of_play_count_as_whole(length: float, whole: bool) -> None:
    assert walked_run(run((0, 0), (length, 0)), TWO).whole is whole


def test_a_run_from_its_other_end_has_other_posts() -> None:
    there = run((0, 0), (3, 0), (3, 10))
    assert [corner.off_mm for corner in walked_run(there, TWO).corners] == [1000]
    assert [corner.off_mm for corner in walked_run(reversed_run(there), TWO).corners] == [0]


def test_nets_begin_where_what_stands_ends() -> None:
    assert set_so_far_mm([(40, 50), (100, 50)], CLOSERS) == (0, 0)
    assert set_so_far_mm([(40, 50), (100, 50), (100, 70)], CLOSERS) == (0, 0, 20_000)
    assert set_so_far_mm([(60, 70), (60, 50), (100, 50), (108, 50)], CLOSERS) == (0, 20_000, 0, 8_000)
    assert set_so_far_mm([(60, 70)], CLOSERS) == (0,)
    assert set_so_far_mm([(100, 50), (100, 50), (100, 60)], CLOSERS) == (0, 0, 10_000)


def test_on_a_plane_whose_metres_are_longer_more_net_stands() -> None:
    assert set_so_far_mm([(100, 50), (120, 50)], CLOSERS, 1.25) == (0, 25_000)


def test_the_nearest_corner_that_closes_takes_whole_bays_on_both_sides() -> None:
    before, at, after = (0.0, 0.0), (11.3, 9.6), (14.0, -3.0)
    found = corner_in_whole_bays(before, at, after, 4_000, TWO)
    assert found is not None
    one, both = math.dist(before, found), math.dist(before, found) + math.dist(found, after)
    assert one / 2 == pytest.approx(round(one / 2), abs=1e-6)
    assert both / 2 == pytest.approx(round(both / 2), abs=1e-6)
    assert math.dist(found, at) < 1.5


def test_there_and_back_again_closes_nothing() -> None:
    assert corner_in_whole_bays((0.0, 0.0), (50.0, 0.1), (0.0, 0.0), 0, TWO) is None
