from __future__ import annotations

import math
import time

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pigmap.geometry.rectangle import Rectangle
from pigmap.geometry.runs import closing
from pigmap.geometry.sides import Sides, edges_of, sides_of
from pigmap.geometry.snap import snap

BAYS = (3572,) * 13 + (3564,)
OLD = Rectangle(0.0, 0.0, 0.0, 50_000, 50_000)
STANDING = sides_of([OLD.outline])


def ghost(x: float, y: float, turned: float = 0.0, long_mm: int = 50_000, wide_mm: int = 50_000) -> Rectangle:
    return Rectangle(0.0, 0.0, turned, long_mm, wide_mm).centred_at(x, y)


def shared_mm(rectangle: Rectangle) -> int:
    return sum(run.length_mm for run in closing(rectangle.outline, STANDING).shared)


def test_a_ghost_near_a_side_rests_on_it_corner_on_corner() -> None:
    found = snap(ghost(77.0, 23.0, turned=7.0), STANDING, 5.0, bays_mm=BAYS)
    assert found.to == "corner"
    assert found.rectangle.centre == pytest.approx((75.0, 25.0))
    assert shared_mm(found.rectangle) == 50_000


def test_farther_along_it_slides_from_post_to_post() -> None:
    found = snap(ghost(77.0, 46.0), STANDING, 5.0, bays_mm=BAYS)
    assert found.to == "side"
    assert shared_mm(found.rectangle) == 50_000 - 6 * 3572  # 21 m along lies nearest to the sixth post, at 21.4 m
    assert found.rectangle.centre[0] == pytest.approx(75.0)


def test_posts_lie_as_far_apart_as_on_the_ground() -> None:
    # A grid metre is 1.25 m of ground: a net is 40 grid metres long, and its posts are 2.8576 apart.
    old = Rectangle(0.0, 0.0, 0.0, 50_000, 50_000, 1.25)
    new = Rectangle(0.0, 0.0, 0.0, 50_000, 50_000, 1.25).centred_at(62.0, 36.5)
    found = snap(new, sides_of([old.outline]), 5.0, bays_mm=BAYS)
    assert found.to == "side"
    (shared,) = closing(found.rectangle.outline, sides_of([old.outline]), 1.25).shared
    assert shared.length_mm == 50_000 - 6 * 3572  # 16.5 grid metres along lies nearest to the sixth post, at 17.1


def test_without_bays_it_slides_freely() -> None:
    found = snap(ghost(77.0, 46.0), STANDING, 5.0)
    assert found.rectangle.centre == pytest.approx((75.0, 46.0))


def test_beyond_the_reach_it_is_free_or_takes_the_fields_direction() -> None:
    assert snap(ghost(85.0, 25.0, turned=7.0), STANDING, 5.0) == (ghost(85.0, 25.0, turned=7.0), "free", -1)
    found = snap(ghost(85.0, 25.0, turned=80.0), STANDING, 5.0, direction_deg=3.0)
    assert (found.to, found.rectangle.turned_deg) == ("direction", 93.0)
    assert found.rectangle.centre == pytest.approx((85.0, 25.0))


@pytest.mark.parametrize(("turned", "to"), [(0.0, 0.0), (50.0, 90.0), (-130.0, -90.0), (359.0, 360.0), (44.0, 0.0)])
def test_it_turns_the_shorter_way(turned: float, to: float) -> None:
    assert snap(ghost(500, 500, turned), None, 5.0, direction_deg=0.0).rectangle.turned_deg == pytest.approx(to)
    assert snap(ghost(75, 25, turned), STANDING, 5.0).rectangle.turned_deg % 360 == pytest.approx(to % 360)


def test_the_side_that_needs_least_turning_comes_to_lie_on_the_standing_one() -> None:
    upright = snap(ghost(77, 50, turned=88.0, long_mm=100_000), STANDING, 5.0, bays_mm=BAYS).rectangle
    assert upright.outline.bounds == pytest.approx((50, 0, 100, 100))
    lying = snap(ghost(102, 24, turned=2.0, long_mm=100_000), STANDING, 5.0, bays_mm=BAYS).rectangle
    assert lying.outline.bounds == pytest.approx((50, 0, 150, 50))


def test_a_shorter_ghost_rests_on_either_corner_of_a_long_side() -> None:
    low = snap(ghost(64, 11, long_mm=25_000, wide_mm=25_000), STANDING, 4.0, bays_mm=BAYS).rectangle
    high = snap(ghost(64, 39, long_mm=25_000, wide_mm=25_000), STANDING, 4.0, bays_mm=BAYS).rectangle
    assert low.outline.bounds == pytest.approx((50, 0, 75, 25))
    assert high.outline.bounds == pytest.approx((50, 25, 75, 50))


def test_nothing_is_drawn_to_a_side_it_would_touch_at_a_corner_only() -> None:
    assert snap(ghost(76, 76), STANDING, 5.0).to == "free"


def test_a_nook_between_two_paddocks_is_filled() -> None:
    above = Rectangle(50.0, 50.0, 0.0, 50_000, 50_000)
    standing = sides_of([OLD.outline, above.outline])
    found = snap(ghost(78.0, 22.0, turned=3.0), standing, 5.0, bays_mm=BAYS)
    assert found.rectangle.outline.bounds == pytest.approx((50, 0, 100, 50))


def test_a_fields_edge_holds_from_inside_only() -> None:
    edge = Sides(edges_of([shapely.box(0, 0, 400, 120)])[:, ::-1])
    assert snap(ghost(200, 27), edge, 5.0).rectangle.outline.bounds[1] == pytest.approx(0.0)
    assert snap(ghost(200, -27), edge, 5.0).to == "free"


def test_no_side_and_no_reach_leave_it_as_it_is() -> None:
    here = ghost(76, 25)
    for sides, reach in ((None, 5.0), (Sides(np.empty((0, 2, 2))), 5.0), (STANDING, 0.0)):
        assert snap(here, sides, reach) == (here, "free", -1)


@settings(max_examples=100)
@given(st.floats(0, 360), st.tuples(st.floats(-4e6, 1e7), st.floats(-4e6, 1e7)), st.floats(71, 79), st.floats(-20, 70))
def test_turning_and_moving_the_farm_changes_nothing(
    turned: float, at: tuple[float, float], x: float, y: float
) -> None:
    def snapped(turned: float, at: tuple[float, float]) -> tuple[str, list[int]]:
        old = Rectangle(*at, turned, 50_000, 50_000)
        (ux, uy), (vx, vy) = old.axes
        follows = Rectangle(0, 0, turned + 9.0, 50_000, 50_000)
        follows = follows.centred_at(at[0] + x * ux + y * vx, at[1] + x * uy + y * vy)
        found = snap(follows, sides_of([old.outline]), 5.0, bays_mm=BAYS)
        return found.to, [run.length_mm for run in closing(found.rectangle.outline, [old.outline]).shared]

    # Half way between two posts the last digit decides; keep off those places.
    start = (y - 25) % 50 / 3.572 % 1
    if abs(start - 0.5) > 0.01 and abs(abs(y - 25) - 5.0) > 0.01:
        assert snapped(turned, at) == snapped(0.0, (0.0, 0.0))


def test_sixty_thousand_sides_do_not_slow_it_down() -> None:
    west, south = (50.0 * side.ravel() for side in np.mgrid[:122, :123])
    standing = sides_of(np.asarray(shapely.box(west, south, west + 50.0, south + 50.0)))
    assert len(standing) == 60_024
    standing.near((0, 0, 1, 1))
    places = np.random.default_rng(1).uniform(0, 6000, (300, 2))
    took = []
    for x, y in places:
        began = time.perf_counter()
        snap(ghost(x, y, 5.0), standing, 5.0, bays_mm=BAYS)
        took.append(time.perf_counter() - began)
    # Meant to take 0.2 ms; ten times that fails on any machine only if every side is looked at.
    assert np.median(took) < 0.002
    assert math.isfinite(max(took))


def test_the_whole_of_one_side_wins_over_a_little_of_a_nearer_one() -> None:
    sides = sides_of([OLD.outline, shapely.box(0.0, 52.0, 200.0, 60.0)])
    # 3 m along the upper side of the old paddock would be nearer than its whole right side.
    found = snap(ghost(72.0, 24.0), sides, 12.0, bays_mm=BAYS)
    assert found.rectangle.centre == pytest.approx((75.0, 25.0))
    near_a_sliver = snap(ghost(74.0, 68.0), sides_of([OLD.outline, shapely.box(100.0, 50.0, 110.0, 200.0)]), 12.0)
    assert near_a_sliver.rectangle.centre[0] == pytest.approx(75.0)
    assert near_a_sliver.to in ("side", "corner")
    assert near_a_sliver.rectangle.centre[1] >= 68.0 - 12.0
    shared = closing(near_a_sliver.rectangle.outline, sides_of([shapely.box(100.0, 50.0, 110.0, 200.0)])).shared
    assert [run.length_mm for run in shared] == [50_000]


def test_beside_a_longer_side_it_begins_at_the_end_of_a_net() -> None:
    long = sides_of([Rectangle(0.0, 0.0, 0.0, 50_000, 150_000).outline])
    found = snap(ghost(77.0, 79.0), long, 5.0, bays_mm=BAYS)
    assert found.to == "side"
    assert found.rectangle.centre == pytest.approx((75.0, 75.0))
    away = snap(ghost(77.0, 82.0), long, 5.0, bays_mm=BAYS)  # out of reach of that end: from post to post
    assert away.rectangle.centre == pytest.approx((75.0, 75.0 + 2 * 3.572))


def test_the_end_of_a_net_draws_no_farther_than_a_quarter_of_one() -> None:
    long = sides_of([Rectangle(0.0, 0.0, 0.0, 50_000, 150_000).outline])
    assert snap(ghost(77.0, 87.0), long, 20.0, bays_mm=BAYS).rectangle.centre == pytest.approx((75.0, 75.0))
    found = snap(ghost(77.0, 97.0), long, 20.0, bays_mm=BAYS).rectangle.centre
    assert found == pytest.approx((75.0, 75.0 + 6 * 3.572))
