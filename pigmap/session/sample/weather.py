"""The sample farm's weather: two invented years with seasons in them."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from pigmap.records import WeatherDay
from pigmap.session.sample.ids import uid
from pigmap.session.sample.timeline import HISTORY, SEED

# A mild, damp climate; all figures invented.
MEAN_C, SWING_C, COLDEST_DAY = 10.2, 6.1, 25
RAIN_MM_A_WET_DAY = 6.5


def weather_days(today: date) -> list[WeatherDay]:
    """Return a day of weather for each day of the two years that end with the day before `today`."""
    chance = random.Random(SEED + 3)
    return list(_days(today, chance))


def _days(today: date, chance: random.Random) -> Iterator[WeatherDay]:
    drift, wet = 0.0, False
    day = today - HISTORY
    while day < today:
        drift = 0.75 * drift + chance.gauss(0, 1.5)
        wet = chance.random() < _chance_of_rain(day, wet)
        rain = round(min(60.0, chance.gammavariate(0.8, RAIN_MM_A_WET_DAY / 0.8)), 1) if wet else 0.0
        mean = MEAN_C - SWING_C * math.cos(_turn(day)) + drift
        half = (2.4 if wet else 4.6) * (1 - 0.25 * math.cos(_turn(day)))
        yield WeatherDay(
            uid=uid("weather", day),
            day=day,
            rain_mm=rain,
            min_c=round(mean - half, 1),
            max_c=round(mean + half, 1),
            source="invented",
        )
        day += timedelta(days=1)


def _turn(day: date) -> float:
    return 2 * math.pi * (day.timetuple().tm_yday - COLDEST_DAY) / 365.25


def _chance_of_rain(day: date, wet_before: bool) -> float:
    seasonal = 0.42 + 0.14 * math.cos(_turn(day))
    return min(0.9, seasonal + (0.22 if wet_before else -0.10))


def as_csv(days: Sequence[WeatherDay]) -> str:
    """Return the days as lines of comma-separated values with a line of names before them."""
    lines = [f"{each.day.isoformat()},{each.rain_mm},{each.min_c},{each.max_c}" for each in days]
    return "\n".join(["day,rain_mm,min_c,max_c", *lines]) + "\n"
