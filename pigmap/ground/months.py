"""Days of the year on which no pigs may come: floods, bogs and other keep-outs by month, and purposes that close."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.kept_out import in_force, kept_out
from pigmap.ground.purposes import purposes_of
from pigmap.records import Farm, KeepOut, Use
from pigmap.records.frozen import dataclass

_LEAP_YEAR = 2024
"""A year that has every day of the calendar."""
_DAYS = 366
_LEAP_DAY = 59
"""Number of 29 February."""
_YEAR = [date(_LEAP_YEAR, 1, 1) + timedelta(days=number) for number in range(_DAYS)]
_EPOCH = date(1970, 1, 1).toordinal()
NEVER_OPEN = 2**30
"""A day later than all others."""

Days = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class MonthsOff:
    """A piece of ground that is kept out of paddocks in one part of the year."""

    uid: str
    ground: BaseGeometry
    off: NDArray[np.bool_]
    """Whether it is off on each day of a leap year, (366,)."""


@dataclass(frozen=True, slots=True, eq=False)
class Months:
    """All such ground of a farm."""

    parts: tuple[MonthsOff, ...]


def months_of(farm: Farm) -> Months:
    """Return the keep-outs of a farm that are one in some months alone: 'flood months', a bog, nesting birds."""
    rows = (each for each in farm.keep_outs.values() if each.from_month_day and each.to_month_day)
    parts = (_part(each, farm.projection.ground_per_grid) for each in sorted(rows, key=lambda each: each.uid))
    return Months(tuple(each for each in parts if not each.ground.is_empty))


def _part(keep_out: KeepOut, ground_per_grid: float) -> MonthsOff:
    off = np.array([in_force(keep_out, day) for day in _YEAR])
    return MonthsOff(keep_out.uid, kept_out(keep_out, ground_per_grid=ground_per_grid), off)


def closed_days(farm: Farm, field_uid: str) -> NDArray[np.bool_]:
    """Return whether a purpose closes a field on each day of a leap year, (366,)."""
    closing = [each for each in purposes_of(farm, field_uid) if each.purpose is Use.CLOSED]
    return np.array([any(each.covers(day) for each in closing) for day in _YEAR], dtype=np.bool_)


@dataclass(frozen=True, slots=True, eq=False)
class OpenDays:
    """The next day on which pigs may come, for each kind of ground in a field."""

    next_open: NDArray[np.int64]
    """Number of the first open day from each day of a leap year on, (kinds, 366); from 366 on it is in the next one."""
    kind_of: NDArray[np.intp]
    """Kind of ground of each region, (regions,)."""

    def from_on(self, days: Days, regions: NDArray[np.intp] | None = None) -> Days:
        """Return the first open day from some days on (ordinals), a day for each region, or for each of some."""
        year, number = _of_year(days)
        found = self.next_open[self.kind_of if regions is None else self.kind_of[regions], number]
        later, number = np.divmod(np.minimum(found, 2 * _DAYS), _DAYS)
        return np.where(found < NEVER_OPEN, np.maximum(_ordinal(year + later, number), days), NEVER_OPEN)


def open_days(closed: NDArray[np.bool_], parts: Sequence[MonthsOff], within: NDArray[np.bool_]) -> OpenDays | None:
    """Return the open days of a field; None where it is open on all of them.

    Parameters
    ----------
    closed
        Whether its purposes close it on each day of a leap year, (366,).
    parts
        Ground that is off in some months.
    within
        Whether each region lies in each of them, (parts, regions).
    """
    if not closed.any() and not within.any():
        return None
    codes = np.zeros(within.shape[1], dtype=np.int64)
    for here in within:
        _, codes = np.unique(codes * 2 + here, return_inverse=True)
    _, first, kind_of = np.unique(codes, return_index=True, return_inverse=True)
    off = [_off(closed, [part for part, here in zip(parts, within[:, at], strict=True) if here]) for at in first]
    return OpenDays(np.stack([_next_open(each) for each in off]), kind_of.astype(np.intp))


def _off(closed: NDArray[np.bool_], parts: Sequence[MonthsOff]) -> NDArray[np.bool_]:
    off = closed.copy()
    for part in parts:
        off |= part.off
    return off


def _next_open(off: NDArray[np.bool_]) -> Days:
    twice = np.where(np.tile(off, 2), NEVER_OPEN, np.arange(2 * _DAYS))
    return np.minimum.accumulate(twice[::-1])[::-1][:_DAYS]


def _of_year(ordinals: Days) -> tuple[Days, NDArray[np.intp]]:
    """Return the year of each day, and its number in a leap year: 1 March is day 60 in every year."""
    stamps = (ordinals - _EPOCH).astype("datetime64[D]")
    year = stamps.astype("datetime64[Y]").astype(np.int64) + 1970
    number = ordinals - _first(year)
    return year, (number + (~_is_leap(year) & (number >= _LEAP_DAY))).astype(np.intp)


def _ordinal(year: Days, number: Days) -> Days:
    """Return a day of a year by its number in a leap year; 29 February is 1 March where the year lacks it."""
    return _first(year) + number - (~_is_leap(year) & (number > _LEAP_DAY))


def _first(year: Days) -> Days:
    """Return 1 January of some years (ordinals)."""
    return (year - 1970).astype("datetime64[Y]").astype("datetime64[D]").astype(np.int64) + _EPOCH


def _is_leap(year: Days) -> NDArray[np.bool_]:
    leap: NDArray[np.bool_] = _first(year + 1) - _first(year) == _DAYS
    return leap
