"""What makes cover go and come faster or slower: rings and feed of the group, what grows, wet ground and drought."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from pigmap.ground import tables
from pigmap.records import Farm, Field, GroundCover, Group
from pigmap.records.frozen import dataclass
from pigmap.weather.climate import Warmth

TREES = frozenset((GroundCover.WOODLAND, GroundCover.SCRUB))
"""Ground that comes back in years, from what was there before: nobody sows it."""


def wear_times(group: Group) -> float:
    """Return how many times the wear of plain pigs of their weight a group's is: ringed less, fed little more."""
    times = tables.RINGED_TIMES if group.ringed else 1.0
    if group.feed_share is not None and group.feed_share <= tables.FED_LITTLE_SHARE:
        times *= tables.FED_LITTLE_TIMES
    return times


def cover_times(field: Field, wood: float = tables.LOSS_TIMES[GroundCover.WOODLAND]) -> float:
    """Return the factor on the loss by what grows: by the sward where someone told it, else by the kind of ground.

    Under trees and scrub another factor counts, whatever the sward, which was measured on open ground.
    """
    if field.ground_cover in TREES:
        return wood
    if field.forage is None:
        return tables.LOSS_TIMES[field.ground_cover]
    return tables.FORAGE_TIMES[field.forage]


@dataclass(frozen=True, slots=True, eq=False)
class SoilWater:
    """How far the soil is from being full of water, day by day."""

    first: int
    """Ordinal of the first day (`date.toordinal`)."""
    missing_mm: NDArray[np.float64]
    """Water that the soil lacks to be full, of each day [mm]; not a number where it is not known."""
    ease: NDArray[np.float64] | None = None
    """How easily what grows takes up water on each day, share; it goes on beyond what was read, by a usual year."""


def soil_water_of(farm: Farm, field: Field, first: int) -> SoilWater | None:
    """Return the water that a field's soil lacks, from a day (an ordinal) to the last one whose rain was read.

    None where nobody told the soil or the rain. For what pigs wear days to come count as dry: the usual ones of winter
    are all wet, and in winter the model shows too much rooting as it is. For what grows they are as in a usual year.
    """
    rained = [row.day.toordinal() for row in farm.weather_days.values() if row.rain_mm is not None]
    if not field.soil or not rained or max(rained) < first:
        return None
    from pigmap.weather.soil_water import ease_of, wetness
    from pigmap.weather.soils import LAYERS, soil_class

    soil, known = soil_class(field.soil), max(rained) - first + 1
    lacks = wetness(farm, field, first, max(rained) + tables.SIGHT_DAYS)
    return SoilWater(first, lacks[:known], ease_of(lacks, LAYERS[soil]) if soil is not None else None)


def grown_warmth(warmth: Warmth, water: SoilWater | None, *, until_read: bool = False) -> Warmth:
    """Return the degree-days that count for growth: in a drought only a share of each.

    ``rho = regrowth x degree-days x ease``. Where nobody told the soil or the rain all of them count. `until_read`
    leaves drought out of all days whose rain nobody has read: as if there were rain enough from now on.
    """
    if water is None or water.ease is None:
        return warmth
    ease = water.ease[: len(water.missing_mm)] if until_read else water.ease
    daily = np.diff(warmth.since)
    begin, end = np.clip([water.first, water.first + len(ease)], warmth.first, warmth.first + len(daily))
    daily[begin - warmth.first : end - warmth.first] *= ease[begin - water.first : end - water.first]
    return replace(warmth, since=np.concatenate(([0.0], np.cumsum(daily))))


def wet_times(missing_mm: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the factor on the loss by the water that the soil lacks [mm]; 1 where it is not known.

    Examples
    --------
    >>> wet_times(np.array([0.0, 5.0, 10.0, 80.0, np.nan])).tolist()
    [1.5, 1.25, 1.0, 1.0, 1.0]
    """
    full = np.clip(1.0 - missing_mm / tables.WET_BELOW_MM, 0.0, 1.0)
    return 1.0 + tables.WET_MORE * np.nan_to_num(full)


def worn_days(warmth: Warmth, water: SoilWater | None) -> NDArray[np.float64]:
    """Return the days from the first day of the warmth to each day, wet ones counted for more, (days + 1,)."""
    times = np.ones(len(warmth.since) - 1)
    if water is not None:
        known = wet_times(np.asarray(water.missing_mm, dtype=np.float64))
        begin, end = np.clip([water.first, water.first + len(known)], warmth.first, warmth.first + len(times))
        times[begin - warmth.first : end - warmth.first] = known[begin - water.first : end - water.first]
    return np.concatenate(([0.0], np.cumsum(times)))
