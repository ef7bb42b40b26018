from __future__ import annotations

from datetime import date
from itertools import pairwise

import numpy as np
import pytest

from pigmap.drawing.tokens import REST_FROM_DAY, ROOTING_FROM
from pigmap.ground import FieldGround, Stopped, prepare
from pigmap.ground.course import course_of, days_between, rest_shares, rooting_shares, weight_of
from pigmap.records import GroundJobKind
from tests.ground.invented import check, farm, field, herd, on, square, stay
from tests.ground.test_told import told

DAYS = tuple(on(day) for day in (0, 5, 10, 30, 200))


def ground(*more: object) -> FieldGround:
    """Return a hectare, on a quarter of which pigs are from day 2 to day 10."""
    return prepare(farm(field(), *herd(), stay("s", 2, 10), *more), "f")  # type: ignore[arg-type]


def test_the_mean_falls_with_pigs_and_rises_after_them() -> None:
    course = course_of(ground(), DAYS, REST_FROM_DAY)
    before, during, after, later, long_after = course.mean.tolist()
    assert before == pytest.approx(0.95)
    assert after < during < before
    assert after < later < long_after


def test_the_range_leaves_out_a_tenth_at_either_end() -> None:
    course = course_of(ground(), DAYS, REST_FROM_DAY)
    state = ground().on(DAYS[2])
    cells = np.sort(state.layers["cover"][state.ground.region_of[state.ground.region_of >= 0]])
    assert course.barest[2] == cells[len(cells) // 10 - 1]
    assert course.greenest[2] == cells[-len(cells) // 10]
    assert course.barest[2] < course.mean[2] < course.greenest[2]


def test_shares_of_rest_add_up_to_all_of_the_ground() -> None:
    never = told(GroundJobKind.NEVER_USED, square(50, 0, 50, 100))
    course = course_of(ground(never), DAYS, REST_FROM_DAY)
    assert course.rests.sum(axis=1).tolist() == pytest.approx([1.0] * len(DAYS))
    assert course.rests[1].tolist() == pytest.approx([0.25, 0, 0, 0, 0, 0, 0.5, 0.25])  # pigs on it: the first class
    assert course.rests[3][1] == pytest.approx(0.25)  # 20 days
    assert course.rests[4][5] == pytest.approx(0.25)  # 190 days


def test_rooting_that_was_seen_is_told_apart_from_what_is_computed() -> None:
    seen = ground(check("c", 9, 4))
    state, weight = seen.on(on(12)), weight_of(seen)
    shares = rooting_shares(state, ROOTING_FROM, weight)
    assert shares.sum() == pytest.approx(1.0)
    assert shares[0].sum() == pytest.approx(0.25)
    assert rooting_shares(state, ROOTING_FROM, weight, computed=True)[0].sum() == 0.0
    assert rest_shares(state, REST_FROM_DAY, weight)[0] == pytest.approx(0.25)


def test_nobody_waits_for_a_course_that_is_stopped() -> None:
    with pytest.raises(Stopped):
        course_of(ground(), DAYS, REST_FROM_DAY, lambda: True)


def test_days_are_even_and_not_too_many() -> None:
    days = days_between(date(2024, 1, 1), date(2026, 12, 31), 100)
    assert len(days) <= 100
    assert len({(later - earlier).days for earlier, later in pairwise(days)}) == 1
    assert days_between(date(2026, 1, 1), date(2026, 1, 1)) == (date(2026, 1, 1),)
