from __future__ import annotations

import pytest

from pigmap.fence.moving import move_minutes, moves_minutes, trips


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
