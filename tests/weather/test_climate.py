from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest

from pigmap.records import Projection, WeatherDay
from pigmap.weather.climate import assumed_year, usual_year, warmth

FIRST = date(2024, 1, 1)


def steady(days: int, mean_c: float) -> list[WeatherDay]:
    return [
        WeatherDay(day=FIRST + timedelta(days=n), min_c=mean_c - 4, max_c=mean_c + 4, uid=f"w{n}") for n in range(days)
    ]


def test_days_that_were_read_count_as_read() -> None:
    warm = warmth(steady(10, 17.0), FIRST.toordinal(), FIRST.toordinal() + 9)
    assert warm.since.tolist() == [12.0 * n for n in range(11)]


def test_a_day_that_was_not_read_is_as_its_neighbours_in_the_year() -> None:
    rows = [row for row in steady(30, 15.0) if row.day.day != 7]
    warm = warmth(rows, FIRST.toordinal(), FIRST.toordinal() + 29)
    assert np.diff(warm.since).tolist() == pytest.approx([10.0] * 30)


def test_a_day_counts_for_fifteen_days_before_and_after_it() -> None:
    usual = usual_year(np.array([date(2023, 7, 1).toordinal()]), np.array([9.5]))
    far = usual != assumed_year()
    assert np.flatnonzero(far).tolist() == list(range(181 - 15, 181 + 16))
    assert set(usual[far].tolist()) == {9.5}


def test_a_day_without_its_highest_temperature_was_not_read() -> None:
    rows = [*steady(30, 15.0), WeatherDay(day=FIRST + timedelta(days=30), min_c=-20.0)]
    warm = warmth(rows, FIRST.toordinal(), FIRST.toordinal() + 30)
    assert np.diff(warm.since)[-1] == pytest.approx(10.0)


def test_the_next_year_is_as_the_last_one_was() -> None:
    warm = warmth(steady(366, 20.0), FIRST.toordinal(), FIRST.toordinal() + 900)
    assert warm.since[-1] == pytest.approx(15.0 * 901)


def test_without_weather_the_year_is_the_assumed_one() -> None:
    nothing = np.empty(0, dtype=np.int64)
    usual = usual_year(nothing, np.empty(0))
    assert usual.tolist() == assumed_year().tolist()
    assert usual[199] == pytest.approx(13.0)  # 18 °C on the warmest day, above 5 °C
    assert usual[15] == 0.0


def test_south_of_the_equator_the_assumed_year_is_turned_by_half() -> None:
    assert assumed_year(south=True)[199] == 0.0
    assert assumed_year(south=True)[16] == pytest.approx(13.0, abs=0.05)


@pytest.mark.parametrize(
    ("authority", "code", "south"), [("EPSG", 32632, False), ("EPSG", 32755, True), ("NONE", 32755, False)]
)
def test_a_utm_zone_says_on_which_side_of_the_equator_it_lies(authority: str, code: int, south: bool) -> None:
    assert Projection(name="", authority=authority, code=code, definition="").lies_south is south


def test_days_before_the_first_and_after_the_last_stand_still() -> None:
    warm = warmth(steady(3, 17.0), FIRST.toordinal(), FIRST.toordinal() + 2)
    assert warm.at(np.array([FIRST.toordinal() - 9, FIRST.toordinal() + 99])).tolist() == [0.0, 36.0]
