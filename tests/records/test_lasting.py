from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pigmap.records import AS_PLANNED, Lasting, Stay, StayState, lasting, lasting_on
from tests.ground.invented import farm, herd, on, stay

RUNNING, PLANNED, PAST = StayState.RUNNING, StayState.PLANNED, StayState.PAST


def days(stays: list[Stay], today: date, closed_on: date | None = None) -> dict[str, tuple[date, date | None]]:
    return {each.stay.uid: (each.first, each.end) for each in lasting(stays, today, closed_on)}


@pytest.mark.parametrize("out", [None, 5, 8])
def test_pigs_are_there_until_someone_records_that_they_left(out: int | None) -> None:
    (each,) = lasting([stay("a", 0, out, state=RUNNING)], on(9))
    assert [each.covers(on(day)) for day in (-1, 0, 5, 9, 40)] == [False, True, True, True, True]
    assert days([stay("a", 0, 8)], on(9)) == {"a": (on(0), on(8))}


def test_pigs_are_expected_to_leave_on_their_day_out_but_today_they_are_still_there() -> None:
    running = [stay("a", 0, 9, state=RUNNING)]
    assert days(running, on(4)) == {"a": (on(0), on(9))}
    assert days(running, on(9)) == {"a": (on(0), on(10))}


def test_a_plan_that_never_began_ends_nothing() -> None:
    stays = [stay("a", 0, None, state=RUNNING), stay("b", 3, 6, state=PLANNED)]
    assert days(stays, on(9)) == {"a": (on(0), None)}


def test_a_plan_that_is_late_is_expected_tomorrow() -> None:
    stays = [stay("a", 0, 8, state=RUNNING), stay("b", 8, 14, state=PLANNED), stay("c", 14, 20, state=PLANNED)]
    assert days(stays, on(9)) == {"a": (on(0), on(10)), "b": (on(10), on(14)), "c": (on(14), on(20))}
    assert days(stays, on(8)) == {"a": (on(0), on(9)), "b": (on(9), on(14)), "c": (on(14), on(20))}
    assert days(stays, on(5)) == {"a": (on(0), on(8)), "b": (on(8), on(14)), "c": (on(14), on(20))}


def test_the_plan_waits_for_a_running_stay() -> None:
    stays = [stay("a", 0, 12, state=RUNNING), stay("b", 8, 16, state=PLANNED)]
    assert days(stays, on(5)) == {"a": (on(0), on(12)), "b": (on(12), on(16))}


@pytest.mark.parametrize("state", [RUNNING, PAST])
def test_the_next_stay_that_is_recorded_ends_a_running_one(state: StayState) -> None:
    stays = [stay("a", 0, 20, state=RUNNING), stay("b", 6, 8, state=state)]
    assert days(stays, on(7))["a"] == (on(0), on(6))


def test_of_two_that_run_from_one_day_the_group_is_in_one() -> None:
    stays = [stay("a", 0, None, state=RUNNING), stay("b", 0, None, state=RUNNING)]
    assert days(stays, on(7)) == {"b": (on(0), None)}


def test_what_is_past_stands_even_where_it_overlaps() -> None:
    assert days([stay("a", 0, 6), stay("b", 3, 9)], on(20)) == {"a": (on(0), on(6)), "b": (on(3), on(9))}


def test_the_next_planned_stay_ends_the_one_before() -> None:
    stays = [stay("a", 3, 9, state=PLANNED), stay("b", 6, 12, state=PLANNED)]
    assert days(stays, on(0)) == {"a": (on(3), on(6)), "b": (on(6), on(12))}


def test_nobody_is_left_in_a_group_that_was_ended() -> None:
    stays = [stay("a", 0, None, state=RUNNING), stay("b", 12, 20, state=PLANNED)]
    assert days(stays, on(9), on(7)) == {"a": (on(0), on(7))}
    closed = farm(*herd(), *stays)
    assert set(lasting_on(closed, on(9))) == {"a", "b"}


def test_a_leap_day_is_a_day_like_others() -> None:
    (each,) = lasting([Stay(uid="l", group_uid="g", paddock_uid="p", ground=stay("s", 0, 1).ground, state=RUNNING,
                            in_on=date(2028, 2, 27), out_on=date(2028, 2, 28))], date(2028, 2, 29))  # fmt: skip
    assert each.covers(date(2028, 2, 29))
    (each,) = lasting([each.stay], date(2028, 2, 28))
    assert each.end == date(2028, 2, 29)


def test_what_was_worked_out_for_a_day_is_not_taken_for_another() -> None:
    one = farm(*herd(), stay("a", 0, 5, state=RUNNING))
    assert lasting_on(one)["a"].end == on(5)
    assert lasting_on(one, on(7))["a"].end is None
    assert lasting_on(one, on(7)) is lasting_on(one, on(7))


@st.composite
def _written(draw: st.DrawFn) -> list[Stay]:
    found = []
    for number in range(draw(st.integers(0, 6))):
        state, first = draw(st.sampled_from(StayState)), draw(st.integers(0, 20))
        lasts = draw(st.integers(0, 8) | (st.none() if state is not PAST else st.nothing()))
        found.append(stay(f"s{number}", first, None if lasts is None else first + lasts, state=state))
    return found


@given(_written(), st.integers(-2, 30))
def test_a_group_is_in_one_place_unless_it_is_recorded_to_have_been_in_two(stays: list[Stay], today: int) -> None:
    found = lasting(stays, on(today))
    for day in (on(number) for number in range(-3, 45)):
        there = [each for each in found if each.covers(day)]
        assert sum(each.stay.state is not PAST for each in there) <= 1
        assert day > on(today) or all(each.stay.state is not PLANNED for each in there)


@given(_written(), st.integers(-2, 30))
def test_the_last_group_that_came_is_there_today(stays: list[Stay], today: int) -> None:
    recorded = [each for each in stays if each.state is not PLANNED and each.in_on <= on(today)]
    last = max(recorded, key=lambda each: (each.in_on, each.state is RUNNING, each.uid), default=None)
    if last is not None and last.state is RUNNING:
        there = [each.stay for each in lasting(stays, on(today)) if each.covers(on(today))]
        assert last in there


@given(_written())
def test_seen_from_before_all_of_it_no_plan_is_late(stays: list[Stay]) -> None:
    planned = [each for each in stays if each.state is PLANNED]
    for each in lasting(planned, AS_PLANNED):
        assert each.first == each.stay.in_on


def test_two_spans_meet_if_they_have_a_day_in_common() -> None:
    each = Lasting(stay("a", 3, 6), on(3), on(6))
    ends = [(0, 3), (0, 4), (5, None), (6, None)]
    assert [each.meets(on(a), None if b is None else on(b)) for a, b in ends] == [False, True, True, False]
    assert Lasting(each.stay, on(3), None).meets(on(3) + timedelta(days=900), None)
