from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pigmap.ground.purpose_year import WHOLE_YEAR, Stretch, free_part, unclear
from pigmap.records import Purpose, Use

GRAZE, TURN, CLOSED = Use.GRAZE_LIGHTLY, Use.TURN_OVER, Use.CLOSED


def part(first: str, last: str, use: Use = GRAZE) -> Purpose:
    return Purpose(field_uid="f", from_month_day=first, to_month_day=last, purpose=use)


@pytest.mark.parametrize(
    "parts",
    [
        [],
        [part("01-01", "12-31")],
        [part("03-16", "11-30"), part("12-01", "03-15", CLOSED)],
        [part("03-01", "11-30"), part("12-01", "02-28", CLOSED)],  # 29 February alone is nothing to speak of
    ],
)
def test_a_year_that_is_told_once_is_clear(parts: list[Purpose]) -> None:
    assert unclear(parts) == []


def test_days_that_are_left_out_are_named_over_new_year_too() -> None:
    assert unclear([part("03-01", "10-31")]) == [Stretch("11-01", "02-29", ())]
    assert unclear([part("12-01", "02-29"), part("04-01", "10-31")]) == [
        Stretch("03-01", "03-31", ()),
        Stretch("11-01", "11-30", ()),
    ]


def test_parts_that_overlap_are_named_with_what_they_are_for() -> None:
    assert unclear([part("01-01", "12-31"), part("05-01", "05-31", TURN)]) == [Stretch("05-01", "05-31", (GRAZE, TURN))]
    assert unclear([part("01-01", "12-31"), part("12-20", "01-10", CLOSED)]) == [
        Stretch("12-20", "01-10", (GRAZE, CLOSED))
    ]
    assert unclear([part("01-01", "12-31"), part("01-01", "12-31")]) == [Stretch(*WHOLE_YEAR, (GRAZE, GRAZE))]


def test_a_further_part_fits_the_longest_days_left_out() -> None:
    assert free_part([]) == WHOLE_YEAR
    assert free_part([part("01-01", "12-31")]) == WHOLE_YEAR
    assert free_part([part("03-01", "10-31")]) == ("11-01", "02-29")
    assert free_part([part("12-01", "02-29"), part("04-01", "09-30")]) == ("10-01", "11-30")


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 365), st.integers(0, 365)), min_size=1, max_size=4))
def test_every_day_is_unclear_that_is_not_in_one_part(spans: list[tuple[int, int]]) -> None:
    year = [date(2024, 1, 1) + timedelta(days=number) for number in range(366)]
    parts = [part(f"{year[first]:%m-%d}", f"{year[last]:%m-%d}") for first, last in spans]
    named = {day for each in unclear(parts) for day in year if part(each.first, each.last).covers(day)}
    several = {day for day in year if sum(each.covers(day) for each in parts) != 1}
    assert named | {date(2024, 2, 29)} == several | {date(2024, 2, 29)}
