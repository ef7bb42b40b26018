"""Water in the soil day by day: how much it lacks to be full, and from that whether it is too wet for pigs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from pigmap.records import Farm, Field, WeatherDay
from pigmap.weather.climate import day_of_year
from pigmap.weather.daily import Daily, daily
from pigmap.weather.evapotranspiration import reference_evapotranspiration
from pigmap.weather.latitude import latitude_of
from pigmap.weather.soils import LAYERS, SoilLayer, soil_class

Numbers = NDArray[np.float64]

TOO_WET_MM = 3.0
"""Water that the soil lacks to be full up to which it is too wet [mm].

Laurenson and Houlbrooke 2016, New Zealand Journal of Agricultural Research 59:444-451: cattle treading on Pallic soils
of New Zealand; keep the deficit above 3 mm. Nothing is printed for pigs.
"""
CAREFUL_MM = 10.0
"""The same up to which it wants care [mm]. Assumed."""

BEFORE_DAYS = 365
"""Days of usual weather that go before the first reading, so that it does not matter how full the soil began."""
LEAST_RAIN_DAYS = 10
"""Days with rain read, none included, below which nothing is said of the soil. Own choice."""


class Depleted(NamedTuple):
    """The water of one layer, day by day."""

    lacks_mm: Numbers
    """Water that it lacks to be full at the end of each day [mm]."""
    ease: Numbers
    """How easily grass takes up water on each day: 1 as when it is full, 0 wilted."""


def depleted(rain_mm: ArrayLike, reference_mm: ArrayLike, layer: SoilLayer, begins_mm: float = 0.0) -> Depleted:
    """Return what a layer of soil lacks day by day: FAO Irrigation and drainage paper 56, 1998, chapter 8.

    ``lacks = lacks before - rain + ease * uptake * reference``, held between 0 and what the layer holds; what would
    make it negative drains away. Nothing runs off, rises from below or is watered.

    Parameters
    ----------
    rain_mm, reference_mm
        Rain and reference evapotranspiration of each day [mm].
    layer
        What the soil holds. Beyond the paper: it stays full for `drain_days` after a day on which water drained.
    begins_mm
        Water lacking before the first day [mm].
    """
    holds, easy = layer.holds_mm, layer.easy_share * layer.holds_mm
    rain = np.asarray(rain_mm, np.float64).tolist()
    taken = (layer.uptake * np.asarray(reference_mm, np.float64)).tolist()
    lacks, drains = begins_mm, 0
    out: list[float] = []
    eases: list[float] = []
    for fallen, wanted in zip(rain, taken, strict=True):  # each day follows from the one before: plain numbers are fast
        ease = min(max((holds - lacks) / (holds - easy), 0.0), 1.0)
        lacks = min(lacks - fallen + ease * wanted, holds)
        if lacks < 0.0:
            lacks, drains = 0.0, layer.drain_days
        elif drains > 0:
            lacks, drains = 0.0, drains - 1
        out.append(lacks)
        eases.append(ease)
    return Depleted(np.array(out), np.array(eases))


def ease_of(lacks_mm: ArrayLike, layer: SoilLayer) -> Numbers:
    """Return how easily grass takes up water day by day, from what the soil lacks at the end of each day [mm].

    FAO Irrigation and drainage paper 56, 1998, chapter 8: 1 while it lacks no more than what is easily taken up, from
    there straight down to 0 where it is wilted; of a day counts what was lacking at its start. 1 where it is not known.

    Examples
    --------
    >>> ease_of([0.0, 60.0, 80.0, 100.0], SoilLayer(0.2)).tolist()  # holds 100 mm, 60 of them easily
    [1.0, 1.0, 1.0, 0.5]
    """
    lacks = np.asarray(lacks_mm, np.float64)
    begins = np.concatenate((lacks[:1], lacks[:-1]))
    ease = (layer.holds_mm - begins) / (layer.holds_mm * (1.0 - layer.easy_share))
    return np.nan_to_num(np.clip(ease, 0.0, 1.0), nan=1.0)


def rain_known_from(weather: Mapping[str, WeatherDay]) -> int | None:
    """Return the first day whose rain was read, by its ordinal; None where too few days were."""
    days = [row.day.toordinal() for row in weather.values() if row.rain_mm is not None]
    return min(days) if len(days) >= LEAST_RAIN_DAYS else None


def wetness(farm: Farm, field: Field, first: int, last: int) -> Numbers:
    """Return the water that a field's soil lacks to be full at the end of each day [mm], (last - first + 1,).

    Days are given by their ordinals, both included. Not a number where nobody can say: on every day where the words
    for the field's soil name no class (`soil_class`) or rain was read on fewer than `LEAST_RAIN_DAYS` days, and on
    days before the first rain that was read. A day without a reading, one to come among them, is as usual for the
    time of the year (`pigmap.weather.daily`). Snow counts as rain, and frost does not count.
    """
    soil, known_from = soil_class(field.soil), rain_known_from(farm.weather_days)
    lacks = np.full(last - first + 1, np.nan)
    if soil is None or known_from is None or last < known_from:
        return lacks
    begin = known_from - BEFORE_DAYS
    weather = daily(farm.weather_days.values(), begin, last, south=farm.projection.lies_south)
    found = depleted(weather.rain_mm, reference_of(weather, latitude_of(farm, field)), LAYERS[soil]).lacks_mm
    shown = max(first, known_from)
    lacks[shown - first :] = found[shown - begin :]
    return lacks


def reference_of(weather: Daily, latitude_deg: float) -> Numbers:
    """Return the reference evapotranspiration of each day of some weather [mm]."""
    return reference_evapotranspiration(weather.max_c, weather.min_c, day_of_year(weather.ordinals) + 1, latitude_deg)


def is_too_wet(lacks_mm: ArrayLike) -> NDArray[np.bool_]:
    """Whether soil that lacks so much water [mm] is too wet; not where it is not known."""
    return np.asarray(lacks_mm, np.float64) <= TOO_WET_MM


def wants_care(lacks_mm: ArrayLike) -> NDArray[np.bool_]:
    """Whether soil that lacks so much water [mm] wants care, without being too wet; not where it is not known."""
    lacks = np.asarray(lacks_mm, np.float64)
    return (lacks > TOO_WET_MM) & (lacks <= CAREFUL_MM)
