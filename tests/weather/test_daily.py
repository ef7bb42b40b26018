from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest

from pigmap.records import WeatherDay
from pigmap.weather.daily import USUAL_RAIN_MM, USUAL_SPREAD_C, daily, filled_days

FIRST = date(2026, 5, 1)
ORDINAL = FIRST.toordinal()


def read(n: int, rain: float | None, low: float | None = 6.0, high: float | None = 16.0) -> WeatherDay:
    return WeatherDay(uid=f"w{n}", day=FIRST + timedelta(days=n), rain_mm=rain, min_c=low, max_c=high)


def test_what_was_read_stands_and_a_gap_is_as_usual_and_said() -> None:
    weather = daily([read(0, 4.0), read(1, 0.0), read(3, 5.0)], ORDINAL, ORDINAL + 3)
    assert weather.rain_mm.tolist() == [4.0, 0.0, 3.0, 5.0]
    assert filled_days(weather) == (date(2026, 5, 3),)


def test_rain_and_warmth_are_filled_each_on_its_own() -> None:
    weather = daily([read(0, None), read(1, 2.0, None, 20.0)], ORDINAL, ORDINAL + 1)
    assert (weather.rain_mm.tolist(), weather.min_c.tolist(), weather.max_c.tolist()) == (
        [2.0, 2.0],
        [6.0, 6.0],
        [16.0, 20.0],
    )
    assert filled_days(weather, warmth=False) == (date(2026, 5, 1),)
    assert filled_days(weather, rain=False) == (date(2026, 5, 2),)


def test_a_day_to_come_is_as_its_day_of_the_year_was() -> None:
    wet = [read(n, 9.0) for n in range(31)]
    weather = daily(wet, ORDINAL + 365, ORDINAL + 365)
    assert (weather.rain_mm[0], weather.min_c[0], weather.max_c[0]) == (9.0, 6.0, 16.0)
    assert len(filled_days(weather)) == len(weather) == 1


def test_far_from_all_readings_the_year_is_an_assumed_one() -> None:
    weather = daily([read(0, 9.0)], ORDINAL + 100, ORDINAL + 100)
    assert float(weather.rain_mm[0]) == USUAL_RAIN_MM
    assert float(weather.max_c[0] - weather.min_c[0]) == pytest.approx(USUAL_SPREAD_C)
    assert 14 < float(weather.min_c[0] + weather.max_c[0]) / 2 < 19  # August in the north
    south = daily([read(0, 9.0)], ORDINAL + 100, ORDINAL + 100, south=True)
    assert float(south.max_c[0]) < float(weather.max_c[0]) - 10


def test_a_lowest_temperature_that_was_read_stands_against_a_usual_highest() -> None:
    weather = daily([read(0, 0.0, 25.0, None), read(1, 0.0, None, -20.0)], ORDINAL, ORDINAL + 1)
    assert (weather.min_c.tolist(), weather.max_c.tolist()) == ([25.0, -20.0], [25.0, -20.0])


def test_the_arrays_cannot_be_written_to() -> None:
    weather = daily([], ORDINAL, ORDINAL + 2)
    with pytest.raises(ValueError, match="read-only"):
        weather.rain_mm[0] = 1.0
    assert np.array_equal(weather.ordinals, [ORDINAL, ORDINAL + 1, ORDINAL + 2])
