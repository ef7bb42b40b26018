from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

import pytest

from pigmap.fence.cautions.caution import Caution
from pigmap.fence.cautions.weather import COLD, DRY, earth_return
from pigmap.records import WeatherDay
from tests.fence.cautions.invented import farm_with, said

TODAY = date(2026, 2, 10)


def days(count: int, *, rain: float | None = 0.0, least: float = 0.0, most: float = 10.0) -> list[WeatherDay]:
    return [
        WeatherDay(day=TODAY - timedelta(days=number), rain_mm=rain, min_c=least, max_c=most) for number in range(count)
    ]


def found(weather: Iterable[WeatherDay], today: date = TODAY) -> Caution | None:
    return earth_return(farm_with(*weather), "North 3", today)


def test_after_three_days_of_frost_pigs_are_hardly_earthed() -> None:
    cold = found(days(3, least=-6.0, most=2.0))
    assert cold is not None
    assert (cold.id, cold.level, cold.held) == ("W14", "warn", "care")
    assert said(cold) == [("North 3: frost for 3 days up to Tue 10 Feb 2026.", str(COLD))]
    assert "own choice" in str(cold.source)


@pytest.mark.parametrize(("mean", "cold"), [(-1.1, True), (-1.0, True), (-0.9, False)])
def test_frost_is_a_mean_below_freezing(mean: float, cold: bool) -> None:
    assert (found(days(3, least=mean - 4, most=mean + 4)) is not None) is cold


def test_two_days_of_frost_or_one_that_is_not_known_are_not_enough() -> None:
    assert found(days(2, least=-9.0, most=-1.0)) is None
    frost = days(4, least=-9.0, most=-1.0)
    assert found([frost[0], frost[2], frost[3]]) is None


def test_three_weeks_without_rain_in_summer_dry_the_ground() -> None:
    dry = found(days(21, rain=0.4, least=10.0, most=25.0))
    assert dry is not None
    assert said(dry) == [("North 3: 8 mm of rain in the 21 days up to Tue 10 Feb 2026.", str(DRY))]


@pytest.mark.parametrize(
    ("count", "rain", "most"), [(20, 0.0, 25.0), (21, 0.5, 25.0), (21, None, 25.0), (21, 0.0, 18.0)]
)
def test_it_is_not_dry_after_less_or_with_rain_or_in_the_cool_or_where_nobody_measured(
    count: int, rain: float | None, most: float
) -> None:
    assert found(days(count, rain=rain, least=10.0, most=most)) is None


def test_weather_of_last_week_says_nothing_of_today() -> None:
    frost = days(3, least=-9.0, most=-1.0)
    assert found(frost, TODAY + timedelta(days=2)) is not None
    assert found(frost, TODAY + timedelta(days=3)) is None
    assert found(frost, TODAY - timedelta(days=1)) is None
    assert found([]) is None
