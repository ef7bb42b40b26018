"""The rest that is wanted of a field, day by day of the year, and the first day on which ground has had it."""

from __future__ import annotations

from datetime import date, timedelta
from typing import cast

import numpy as np
from numpy.typing import NDArray

from pigmap.ground.purposes import purposes_of, strictest, wanted_on
from pigmap.records import Farm, Field
from pigmap.records.frozen import dataclass

_LEAP_YEAR = 2024
"""A year that has every day of the calendar."""
_YEAR_DAYS = 366
_EPOCH = date(1970, 1, 1).toordinal()
_NOT_YET = np.iinfo(np.int64).max

Days = NDArray[np.int64]


def rest_wanted(farm: Farm, field_uid: str, day: date) -> int | None:
    """Return the days of rest that are wanted of a field on a day; None where there is no such field."""
    field = farm.fields.get(field_uid)
    return wanted_on(farm, field, day).rest_days if field is not None else None


@dataclass(frozen=True, slots=True)
class WantedRest:
    """Rest for each part of the year, in turn."""

    begins: tuple[int, ...]
    """First day of each part, as month times 100 and day; the last part runs on over New Year."""
    days: tuple[int, ...]
    """Rest that is wanted of ground that is used in that part [d]."""

    def on(self, days: Days) -> Days:
        """Return the rest that is wanted on some days (ordinals) [d]."""
        _, month, first = _months(days)
        number = month * 100 + (days - first) + 1
        part = np.searchsorted(np.array(self.begins), number, side="right") - 1  # before the first it is the last
        return np.array(self.days, dtype=np.int64)[part]

    def first_rested(self, left: Days, earliest: Days) -> Days:
        """Return the first day from the earliest on on which ground has the rest that is wanted on that very day.

        Parameters
        ----------
        left
            The days on which pigs left (ordinals).
        earliest
            The days before which ground is not ready for other reasons (ordinals), same shape.

        Notes
        -----
        Within a part of the year one rest holds: its first good day is the earliest, the part's first day, or that on
        which its rest has passed. Only these are looked at.
        """
        tried = [earliest, *(np.maximum(earliest, left + days) for days in sorted(set(self.days)))]
        for years in range(max(self.days) // 365 + 2):
            tried += [_next(begin, earliest, years) for begin in self.begins]
        days = np.stack(tried)
        rested = days - left >= self.on(days)
        return cast(Days, np.where(rested, days, _NOT_YET).min(axis=0))


def wanted_rest(farm: Farm, field: Field) -> WantedRest:
    """Return the rest wanted of a field through the year: what its purposes ask for, or what is usual for them."""
    purposes, cover = purposes_of(farm, field.uid), field.ground_cover
    first = date(_LEAP_YEAR, 1, 1)
    year = [first + timedelta(days=number) for number in range(_YEAR_DAYS)]
    asked = [strictest([each for each in purposes if each.covers(day)], cover).rest_days for day in year]
    begins = [number for number in range(_YEAR_DAYS) if asked[number] != asked[number - 1]] or [0]
    return WantedRest(
        tuple(year[number].month * 100 + year[number].day for number in begins),
        tuple(asked[number] for number in begins),
    )


def _months(days: Days) -> tuple[Days, Days, Days]:
    """Return year, month (1 to 12) and the first day of the month (an ordinal) of some days (ordinals)."""
    months = (days - _EPOCH).astype("datetime64[D]").astype("datetime64[M]")
    since = months.astype(np.int64)
    return since // 12 + 1970, since % 12 + 1, months.astype("datetime64[D]").astype(np.int64) + _EPOCH


def _next(begin: int, earliest: Days, years: int) -> Days:
    """Return the day of the year that is next to some days, or that so many years after it (ordinals)."""
    year, _, _ = _months(earliest)
    this = _ordinal(year + years, begin)
    return cast(Days, np.where(_ordinal(year, begin) >= earliest, this, _ordinal(year + years + 1, begin)))


def _ordinal(year: Days, begin: int) -> Days:
    """Return a day of some years; 29 February is 1 March where the year lacks it."""
    month, day = divmod(begin, 100)
    months = (12 * (year - 1970) + month - 1).astype("datetime64[M]")
    return months.astype("datetime64[D]").astype(np.int64) + _EPOCH + day - 1
