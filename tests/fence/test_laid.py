from __future__ import annotations

import numpy as np
import pytest
import shapely

from pigmap.fence.laid import Corner, Ending, corners_of, laid
from pigmap.geometry.runs import Run, open_runs
from pigmap.records import NetKind

FIFTY = NetKind(name="50 m nets", bays_mm=(3572,) * 13 + (3564,))
FEET = NetKind(name="164 ft nets", bays_mm=(3810,) * 13 + (457,))
"""49.987 m at 3.81 m are 13.12 bays: the last is odd."""


def test_joints_are_the_lengths_and_posts_the_bays_added_up() -> None:
    found = laid(99_974, [], [(FEET, False), (FEET, True)])
    assert [(net.begin_mm, net.end_mm) for net in found.nets] == [(0, 49_987), (49_987, 99_974)]
    assert found.posts_mm[:3] == (0, 3810, 7620)
    # The odd bays of both nets stand beside each other, and the end posts of both together.
    assert found.posts_mm[12:17] == (45_720, 49_530, 49_987, 50_444, 54_254)
    assert found.posts_mm[-1] == 99_974
    assert len(found.posts_mm) == 2 * 14 + 1


@pytest.mark.parametrize(
    ("at", "off", "stake"),
    [(3810, 0, False), (4000, 190, False), (4110, 300, False), (4111, 301, True), (5715, 1905, True)],
)
def test_a_corner_is_as_far_off_as_the_nearest_post_and_beyond_thirty_centimetres_has_a_stake(
    at: int, off: int, stake: bool
) -> None:
    found = laid(49_987, [at], [(FEET, False)])
    assert found.corners == (Corner(at, off),)
    assert found.corners[0].own_stake is stake
    assert found.farthest_off_mm == off


def test_what_the_last_net_does_not_need_is_folded_at_the_first_post_beyond_the_end() -> None:
    # 130 m of 3 x 50 m: the last needs 30 m, 9 bays of 3.572 m are 32.148 m, the other 5 are folded.
    found = laid(130_000, [], [(FIFTY, False)] * 3)
    assert found.ending == Ending(folded_bays=5, folded_mm=4 * 3572 + 3564, slack_mm=2_148, taut=False)
    assert found.posts_mm[-2:] == (100_000 + 8 * 3572, 130_000)
    assert len(found.posts_mm) == 2 * 14 + 9 + 1


def test_the_odd_bay_is_folded_first_or_used_first_as_the_net_is_turned() -> None:
    first = laid(46_000, [], [(FEET, False)])
    assert first.ending == Ending(1, 457, 3_530, taut=False)
    turned = laid(46_000, [], [(FEET, True)])
    assert turned.ending == Ending(1, 3810, 177, taut=False)


@pytest.mark.parametrize(
    ("length", "folded", "slack", "taut"),
    [
        (142_499, 2, 365, False),
        (142_500, 0, 7_500, False),
        (148_500, 0, 1_500, False),
        (148_501, 0, 1_499, True),
        (150_000, 0, 0, True),
        (150_100, 0, -100, True),
    ],
)
def test_between_one_and_five_hundredths_of_slack_nothing_is_folded(
    length: int, folded: int, slack: int, taut: bool
) -> None:
    ending = laid(length, [], [(FIFTY, False)] * 3).ending
    assert (ending.folded_bays, ending.slack_mm, ending.taut) == (folded, slack, taut)


def test_a_rest_within_the_last_bay_cannot_be_folded() -> None:
    kind = NetKind(name="short", bays_mm=(5_000, 5_000))
    assert laid(6_000, [], [(kind, False)]).ending == Ending(0, 0, 4_000, taut=False)


def test_a_post_that_misses_the_end_by_its_play_is_the_last() -> None:
    found = laid(30_100, [], [(NetKind(name="even", bays_mm=(10_000,) * 5), False)])
    assert found.posts_mm == (0, 10_000, 20_000, 30_100)
    assert found.ending == Ending(2, 20_000, -100, taut=False)
    assert laid(30_101, [], [(NetKind(name="even", bays_mm=(10_000,) * 5), False)]).posts_mm[-2:] == (30_000, 30_101)


def test_what_is_used_folded_and_slack_is_the_whole_length_of_the_nets() -> None:
    rng = np.random.default_rng(16)
    for _ in range(200):
        nets = [((FIFTY, FEET)[rng.integers(2)], bool(rng.integers(2))) for _ in range(rng.integers(1, 5))]
        whole = sum(kind.length_mm for kind, _ in nets)
        length = whole - int(rng.integers(-100, 49_000))
        found = laid(length, [], nets)
        assert length + found.ending.slack_mm + found.ending.folded_mm == whole
        last = found.nets[-1].bays_mm
        assert found.ending.folded_mm == sum(last[len(last) - found.ending.folded_bays :])
        assert found.posts_mm[-1] == length


def test_corners_are_where_a_run_turns_in_millimetres_of_ground() -> None:
    (run,) = open_runs(shapely.box(0, 0, 50, 50), [])
    assert corners_of(run) == (50_000, 100_000, 150_000)
    bent = Run(np.array([(0.0, 0.0), (20.0, 0.0), (40.0, 0.1), (40.0, 10.0)]), 50_000)
    assert corners_of(bent, 1.001) == (40_040,)
