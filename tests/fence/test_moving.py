from __future__ import annotations

from datetime import date

import pytest

from pigmap.fence.moving import OWN_MOVES, MoveTime, move_minutes, move_time, moves_minutes, trips
from pigmap.records import Farm, MoveDone, Projection, add


def test_two_people_take_a_third_less_by_the_clock_and_a_third_more_of_their_time() -> None:
    assert move_minutes(1) == 30.0
    assert move_minutes(2) == pytest.approx(20.0, abs=0.01)
    assert 2 * move_minutes(2) == pytest.approx(40.0, abs=0.01)
    assert move_minutes(3) < move_minutes(2)


def test_moves_follow_each_other() -> None:
    assert moves_minutes(0, 2) == 0.0
    assert moves_minutes(5, 2) == pytest.approx(5 * move_minutes(2))


@pytest.mark.parametrize(
    ("nets", "people", "each", "walks"), [(3, 1, 1, 3), (4, 1, 1, 4), (4, 2, 2, 1), (5, 2, 2, 2), (0, 1, 2, 0)]
)
def test_less_load_is_not_always_fewer_trips(nets: int, people: int, each: int, walks: int) -> None:
    assert trips(nets, people, each) == walks


def _farm(*told: tuple[float | None, int | None]) -> Farm:
    flat = Projection(name="flat", authority="NONE", code=0, definition="", ground_per_grid=1.0)
    rows = [
        MoveDone(to_stay_uid=f"s{at}", done_on=date(2026, 5, 1), minutes=minutes, people=people)
        for at, (minutes, people) in enumerate(told)
    ]
    return Farm(document_uid="farm", projection=flat).after(add(row) for row in rows)


def test_the_farms_own_times_count_from_the_tenth_move_on() -> None:
    usual = MoveTime(move_minutes(1), move_minutes(2), 0)
    assert move_time(_farm(*[(45.0, 1)] * (OWN_MOVES - 1), (None, 1), (45.0, None))) == usual
    own = move_time(_farm(*[(45.0, 1)] * OWN_MOVES))
    assert own == pytest.approx((45.0, 30.0, OWN_MOVES), abs=0.01)


def test_moves_of_two_people_count_as_what_one_would_have_taken_and_a_bad_day_hardly_counts() -> None:
    # Two people take 20 minutes for what takes one 30 (common practice): 24 minutes of two are 36 of one.
    own = move_time(_farm(*[(24.0, 2)] * 6, *[(36.0, 1)] * 5, (400.0, 1)))
    assert own == pytest.approx((36.0, 24.0, 12), abs=0.02)
