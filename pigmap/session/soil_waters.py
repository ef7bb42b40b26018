"""How wet the soil of each field is, day by day; kept while the farm's weather is the same."""

from __future__ import annotations

import math
from datetime import date
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.records import Farm, Field, WeatherDay
from pigmap.records.farm import Rows
from pigmap.weather.latitude import latitude_of
from pigmap.weather.soil_water import rain_known_from, wetness
from pigmap.weather.soils import soil_class

AHEAD_DAYS = 730
"""Days beyond the last reading that are worked out at once [d]: as far as ready days are given. Own choice."""


class _Kept(NamedTuple):
    """What follows from the weather of one farm."""

    weather: Rows[WeatherDay]
    first: int | None
    last: int
    lacks: dict[tuple[str, float, int], NDArray[np.float64]]


def _kept_of(farm: Farm) -> _Kept:
    last = max((row.day.toordinal() for row in farm.weather_days.values()), default=0) + AHEAD_DAYS
    return _Kept(farm.weather_days, rain_known_from(farm.weather_days), last, {})


class SoilWaters:
    """May be asked by any thread: what two work out at the same time is the same."""

    def __init__(self) -> None:
        self._kept: _Kept | None = None

    def days(self, farm: Farm, field: Field, until: date | None = None) -> tuple[int, NDArray[np.float64]] | None:
        """Return the first day that is known (its ordinal), and the water lacking from it on [mm], read-only.

        None where nobody can say: no soil that is known by its words, or too little rain written down.

        Parameters
        ----------
        farm, field
            At one revision.
        until
            The last day wanted; by default two years beyond the last reading.
        """
        soil, kept = soil_class(field.soil), self._kept
        if kept is None or kept.weather is not farm.weather_days:
            kept = self._kept = _kept_of(farm)
        if kept.first is None or soil is None:
            return None
        last = kept.last
        if until is not None and until.toordinal() > last:
            last = until.toordinal() + AHEAD_DAYS
        key = str(soil), round(latitude_of(farm, field), 1), last
        if key not in kept.lacks:
            lacks = wetness(farm, field, kept.first, last)
            lacks.flags.writeable = False
            kept.lacks[key] = lacks
        return kept.first, kept.lacks[key]

    def lacks_mm(self, farm: Farm, field: Field, day: date) -> float:
        """Return the water that a field's soil lacks to be full at the end of a day [mm]; not a number if not known."""
        known = self.days(farm, field, day)
        if known is None:
            return math.nan
        first, lacks = known
        at = day.toordinal() - first
        return float(lacks[at]) if at >= 0 else math.nan
