"""How steep ground is, from its heights on a square grid."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


def slope_deg(heights_m: NDArray[np.floating], step_m: float) -> NDArray[np.float64]:
    """Return the slope at each point of a square grid of heights [degrees], (rows, columns).

    By Horn's formula (Horn 1981, Hill shading and the reflectance map, Proceedings of the IEEE 69:14-47, from memory):
    the eight neighbours, those beside counted twice. Not a number at the edge, and beside a height that is none.

    Parameters
    ----------
    heights_m
        Heights (rows, columns) [m]; not a number where there is none.
    step_m
        Distance of two neighbours on the ground [m].

    Examples
    --------
    >>> plane = np.arange(5.0)[:, None] + np.zeros((1, 4))  # rises a metre with each row
    >>> slope_deg(plane, 10.0)[2, 1].round(2)
    np.float64(5.71)
    """
    slope = np.full(heights_m.shape, np.nan)
    if min(heights_m.shape) < 3:
        return slope
    at = np.asarray(heights_m, dtype=np.float64)
    west, east = at[:, :-2], at[:, 2:]
    north, south = at[:-2], at[2:]
    across = ((east - west)[:-2] + 2 * (east - west)[1:-1] + (east - west)[2:]) / (8 * step_m)
    down = ((south - north)[:, :-2] + 2 * (south - north)[:, 1:-1] + (south - north)[:, 2:]) / (8 * step_m)
    slope[1:-1, 1:-1] = np.degrees(np.arctan(np.hypot(across, down)))
    slope[~np.isfinite(at)] = np.nan
    return slope
