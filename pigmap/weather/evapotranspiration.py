"""Reference evapotranspiration: how much water well-watered short grass gives to the air on a day."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

MOST_MM = 15.0
"""No day takes more than this [mm]; the library that computes it gives no number above."""


def reference_evapotranspiration(
    max_c: ArrayLike, min_c: ArrayLike, day_of_year: ArrayLike, latitude_deg: float
) -> NDArray[np.float64]:
    """Return the reference evapotranspiration of each day from its temperatures alone [mm], after Hargreaves.

    ``ET0 = 0.0023 (mean + 17.8) √(max - min) Ra``, with Ra, the sun at the top of the air, as water [mm]: Allen,
    Pereira, Raes and Smith, Crop evapotranspiration, FAO Irrigation and drainage paper 56, 1998, equations 52 and 21.

    Parameters
    ----------
    max_c, min_c
        Highest and lowest temperature of each day [°C], both known.
    day_of_year
        From 1 to 366.
    latitude_deg
        North of the equator, up to 65 degrees to either side.

    Notes
    -----
    Neither wind nor humidity counts: on windy, dry days it is too low, on still, damp ones too high. A highest
    temperature below the lowest counts as equal to it. Rounded to 0.01 mm.
    """
    from eto import ETo

    lowest, highest = np.atleast_1d(np.asarray(min_c, np.float64)), np.atleast_1d(np.asarray(max_c, np.float64))
    days = np.atleast_1d(np.asarray(day_of_year, np.int64))
    if not len(days):
        return np.empty(0)
    told = {"T_max": np.maximum(highest, lowest), "T_min": lowest}
    answer = ETo(data=told, lat=latitude_deg, z_msl=0.0, day_of_year=days, validate=False).eto_hargreaves(MOST_MM)
    return np.nan_to_num(np.asarray(answer, np.float64), nan=MOST_MM)


def sun_above_air(day_of_year: ArrayLike, latitude_deg: float) -> NDArray[np.float64]:
    """Return the sun at the top of the air of each day, Ra [MJ/m²]: FAO paper 56, equations 21 to 25.

    Examples
    --------
    >>> sun_above_air(196, 45.72).round(1).tolist()
    [40.6]
    """
    days = np.atleast_1d(np.asarray(day_of_year, np.float64))
    latitude = np.radians(latitude_deg)
    tilt = 0.409 * np.sin(2 * np.pi * days / 365 - 1.39)
    nearness = 1 + 0.033 * np.cos(2 * np.pi * days / 365)
    sunset = np.arccos(np.clip(-np.tan(latitude) * np.tan(tilt), -1.0, 1.0))
    level = sunset * np.sin(latitude) * np.sin(tilt) + np.cos(latitude) * np.cos(tilt) * np.sin(sunset)
    return np.asarray(24 * 60 / np.pi * 0.082 * nearness * level, dtype=np.float64)


def sun_from_temperatures(max_c: ArrayLike, min_c: ArrayLike, above_air: ArrayLike) -> NDArray[np.float64]:
    """Return the sun that reaches the ground inland, Rs [MJ/m²], after Hargreaves: FAO paper 56, equation 50."""
    spread = np.maximum(np.asarray(max_c, np.float64) - np.asarray(min_c, np.float64), 0.0)
    return np.asarray(0.16 * np.sqrt(spread) * np.asarray(above_air, np.float64), dtype=np.float64)
