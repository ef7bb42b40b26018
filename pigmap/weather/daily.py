"""Rain and temperatures of every day from one to another: as read, and as usual where nothing was."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

import numpy as np
from numpy.typing import NDArray

from pigmap.records import WeatherDay
from pigmap.records.frozen import dataclass
from pigmap.weather.climate import YEAR, assumed_mean_c, day_of_year, usual_of

USUAL_SPREAD_C = 9.0
"""Between the lowest and the highest temperature of a usual day [°C] where none is known. Assumed."""
USUAL_RAIN_MM = 2.0
"""Rain of a usual day [mm] where none is known. Assumed: 730 mm a year, much the same all through it."""

Numbers = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Daily:
    """The weather of each day from a first one on; arrays of one length, read-only."""

    first: int
    """Ordinal of the first day (`date.toordinal`)."""
    rain_mm: Numbers
    min_c: Numbers
    max_c: Numbers
    rain_filled: NDArray[np.bool_]
    """Whether the rain of a day was not read, and is as usual for its day of the year."""
    warmth_filled: NDArray[np.bool_]
    """Whether its lowest or its highest temperature was not read."""

    def __len__(self) -> int:
        return len(self.rain_mm)

    @property
    def ordinals(self) -> NDArray[np.int64]:
        """The days."""
        return np.arange(self.first, self.first + len(self), dtype=np.int64)


def daily(weather: Iterable[WeatherDay], first: int, last: int, *, south: bool = False) -> Daily:
    """Return the weather of each day from one to another, both given by their ordinals and both included.

    A figure that was not read is the mean of what was read within 15 days of that day of the year, in any year; where
    nothing was, that of an assumed temperate year. `filled_days` says which days those are.
    """
    rows = list(weather)
    south_of = assumed_mean_c(south=south)
    rain, rain_filled = _filled(rows, "rain_mm", np.full(YEAR, USUAL_RAIN_MM), first, last)
    low, low_filled = _filled(rows, "min_c", south_of - USUAL_SPREAD_C / 2, first, last)
    high, high_filled = _filled(rows, "max_c", south_of + USUAL_SPREAD_C / 2, first, last)
    # One that was read stands against the other that was not.
    low = np.where(low_filled, np.minimum(low, high), low)
    high = np.maximum(low, high)
    made = Daily(first, rain, low, high, rain_filled, low_filled | high_filled)
    for array in (made.rain_mm, made.min_c, made.max_c, made.rain_filled, made.warmth_filled):
        array.flags.writeable = False
    return made


def filled_days(weather: Daily, *, rain: bool = True, warmth: bool = True) -> tuple[date, ...]:
    """Return the days on which a figure was not read and is the usual one, in order."""
    filled = (weather.rain_filled & rain) | (weather.warmth_filled & warmth)
    return tuple(date.fromordinal(int(day)) for day in weather.ordinals[filled])


def _filled(
    rows: Sequence[WeatherDay], name: str, assumed: Numbers, first: int, last: int
) -> tuple[Numbers, NDArray[np.bool_]]:
    read = [(row.day.toordinal(), value) for row in rows if (value := getattr(row, name)) is not None]
    days = np.array([day for day, _ in read], dtype=np.int64)
    values = np.array([value for _, value in read], dtype=np.float64)
    ordinals = np.arange(first, last + 1, dtype=np.int64)
    made = usual_of(days, values, assumed)[day_of_year(ordinals)]
    filled = np.ones(len(ordinals), dtype=np.bool_)
    here = (days >= first) & (days <= last)
    made[days[here] - first] = values[here]
    filled[days[here] - first] = False
    return made, filled
