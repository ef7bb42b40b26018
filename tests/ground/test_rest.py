from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pigmap.ground.rest import WantedRest, rest_wanted, wanted_rest
from pigmap.records import Purpose, Use
from tests.ground.invented import farm, field

USUAL = 30
DAYS = st.dates(date(2019, 1, 1), date(2029, 12, 31))


def purpose(uid: str, first: str, last: str, rest: int | None) -> Purpose:
    return Purpose(
        uid=uid,
        field_uid="f",
        from_month_day=first,
        to_month_day=last,
        purpose=Use.GRAZE_LIGHTLY,
        rest_days_wanted=rest,
    )


@st.composite
def purposes(draw: st.DrawFn) -> list[Purpose]:
    days = st.dates(date(2024, 1, 1), date(2024, 12, 31)).map(lambda day: f"{day:%m-%d}")
    rest = st.none() | st.integers(0, 800)
    return [purpose(f"p{number}", draw(days), draw(days), draw(rest)) for number in range(draw(st.integers(0, 4)))]


@settings(max_examples=60, deadline=None)
@given(purposes(), st.lists(DAYS, min_size=1, max_size=20))
def test_the_rest_of_a_day_is_what_the_longest_purpose_of_that_day_asks_for(
    asked: list[Purpose], days: list[date]
) -> None:
    made = farm(field(), *asked)
    rest = wanted_rest(made, made.fields["f"])
    for day, found in zip(days, rest.on(np.array([day.toordinal() for day in days])).tolist(), strict=True):
        covering = [
            USUAL if each.rest_days_wanted is None else each.rest_days_wanted for each in asked if each.covers(day)
        ]
        assert found == (max(covering) if covering else USUAL)
        assert rest_wanted(made, "f", day) == found
    assert rest_wanted(made, "gone", days[0]) is None


@settings(max_examples=60, deadline=None)
@given(purposes(), DAYS, st.integers(0, 500))
def test_ground_is_rested_on_the_first_day_that_looking_at_every_day_finds(
    asked: list[Purpose], left: date, later: int
) -> None:
    made = farm(field(), *asked)
    rest = wanted_rest(made, made.fields["f"])
    earliest = left + timedelta(days=later)
    found = rest.first_rested(np.array([left.toordinal()]), np.array([earliest.toordinal()]))
    day = earliest
    while (day - left).days < rest.on(np.array([day.toordinal()])).item():
        day += timedelta(days=1)
    assert date.fromordinal(found.item()) == day


def test_the_parts_of_a_year_are_as_few_as_can_be() -> None:
    made = farm(field(), purpose("a", "11-01", "03-31", 120), purpose("b", "04-01", "10-31", 60))
    assert wanted_rest(made, made.fields["f"]) == WantedRest((401, 1101), (60, 120))
    assert wanted_rest(farm(field()), made.fields["f"]) == WantedRest((101,), (USUAL,))


@pytest.mark.parametrize(("left", "ready"), [("2026-08-01", "2026-10-01"), ("2026-09-10", "2026-10-10")])
def test_where_less_rest_is_wanted_from_some_day_on_ground_is_ready_then(left: str, ready: str) -> None:
    rest = WantedRest((101, 1001), (85, 30))
    day = np.array([date.fromisoformat(left).toordinal()])
    assert date.fromordinal(rest.first_rested(day, day).item()).isoformat() == ready
