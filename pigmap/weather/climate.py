"""Warmth day by day: what was read, and the usual year where nothing was."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

import numpy as np
from numpy.typing import NDArray

from pigmap.records import WeatherDay
from pigmap.records.frozen import dataclass
from pigmap.weather.degree_days import degree_days

YEAR = 366

USUAL_MEAN_C = 10.0
"""Mean of the usual year [°C] where no weather is known. Assumed: a temperate lowland farm."""
USUAL_SWING_C = 8.0
"""Half the difference of its warmest and coldest day [°C]. Assumed."""
USUAL_WARMEST_DAY = 200
"""Day of the year on which it is warmest north of the equator. Assumed: 19 July."""

WINDOW_DAYS = 15
"""Days to either side that count for the usual warmth of a day of the year. Assumed."""


@dataclass(frozen=True, slots=True, eq=False)
class Warmth:
    """Degree-days since a first day, for every day up to a last one."""

    first: int
    """Ordinal of the first day (`date.toordinal`)."""
    since: NDArray[np.float64]
    """Degree-days from the start of the first day to the start of each day [°C·d], one more than there are days."""

    def at(self, day: NDArray[np.signedinteger] | np.int32) -> NDArray[np.float64]:
        """Return the degree-days from the first day to the start of each day, given by its ordinal [°C·d]."""
        until: NDArray[np.float64] = self.since.take(day - np.int32(self.first), mode="clip")
        return until


def warmth(weather: Iterable[WeatherDay], first: int, last: int, *, south: bool = False) -> Warmth:
    """Return the warmth from one day to another, both given by their ordinals.

    Days that were read count as read; the others as their day of the year usually is: the mean of what was read
    within `WINDOW_DAYS` of it in any year, or the assumed year where nothing was.
    """
    days, read = _read(weather)
    usual = usual_year(days, read, south=south)
    ordinals = np.arange(first, last + 1)
    daily = usual[day_of_year(ordinals)]
    here = (days >= first) & (days <= last)
    daily[days[here] - first] = read[here]
    return Warmth(first, np.concatenate(([0.0], np.cumsum(daily))))


def usual_year(days: NDArray[np.int64], read: NDArray[np.float64], *, south: bool = False) -> NDArray[np.float64]:
    """Return the usual degree-days of each day of the year, from ordinals of days and their degree-days, (366,)."""
    return usual_of(days, read, assumed_year(south=south))


def usual_of(days: NDArray[np.int64], read: NDArray[np.float64], assumed: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the usual figure of each day of the year: the mean of what was read near it in any year, (366,).

    Parameters
    ----------
    days, read
        Ordinals of days, and what was read on each.
    assumed
        The figure of each day of the year where nothing was read within `WINDOW_DAYS` of it, (366,).
    """
    of_year = day_of_year(days)
    total = np.bincount(of_year, weights=read, minlength=YEAR)
    count = np.bincount(of_year, minlength=YEAR).astype(np.float64)
    near = [np.roll(np.stack((total, count)), shift, axis=1) for shift in range(-WINDOW_DAYS, WINDOW_DAYS + 1)]
    total, count = np.sum(near, axis=0)
    return np.where(count > 0, total / np.maximum(count, 1), assumed)


def assumed_year(*, south: bool = False) -> NDArray[np.float64]:
    """Return the degree-days of an assumed temperate year, (366,) [°C·d]; half a year later south of the equator."""
    mean = assumed_mean_c(south=south)
    return degree_days(mean, mean)


def assumed_mean_c(*, south: bool = False) -> NDArray[np.float64]:
    """Return the mean temperature of each day of that year, (366,) [°C]."""
    turn = (np.arange(YEAR) + 1 - USUAL_WARMEST_DAY) / YEAR * 2 * np.pi + (np.pi if south else 0.0)
    return np.asarray(USUAL_MEAN_C + USUAL_SWING_C * np.cos(turn), dtype=np.float64)


def _read(weather: Iterable[WeatherDay]) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
    rows = [(each.day.toordinal(), each.max_c, each.min_c) for each in weather]
    rows = [row for row in rows if row[1] is not None and row[2] is not None]
    if not rows:
        return np.empty(0, dtype=np.int64), np.empty(0)
    table = np.array(rows, dtype=np.float64)
    return table[:, 0].astype(np.int64), degree_days(table[:, 1], table[:, 2])


def day_of_year(ordinals: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return the day of the year of each ordinal, from 0; 29 February makes later days of its year one more."""
    days = ordinals.astype(np.int64) - date(1970, 1, 1).toordinal()
    stamps = days.astype("datetime64[D]")
    of_year: NDArray[np.int64] = (stamps - stamps.astype("datetime64[Y]")).astype(np.int64)
    return of_year
