"""Degree-days: how much warmth for growth one day brings."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

COOL_BASE_C = 5.0
"""Base for cool-season grass [°C]. Grass growth resumes when the daily mean reaches 5 °C (Oregon State University)."""

COOL_CAP_C = 25.0
"""Daily mean above which cool-season grass gains no more [°C]. Assumed: its growth peaks near 21 °C."""


def degree_days(
    max_c: ArrayLike, min_c: ArrayLike, *, base_c: float = COOL_BASE_C, cap_c: float = COOL_CAP_C
) -> NDArray[np.float64]:
    """Return the degree-days of each day from the mean of its highest and lowest temperature.

    Parameters
    ----------
    max_c, min_c
        Highest and lowest temperature of each day [°C]; not a number where it was not read.
    base_c
        Daily mean up to which nothing grows [°C].
    cap_c
        Daily mean above which nothing more is gained [°C].

    Returns
    -------
    ndarray
        Degree-days [°C·d], at least 0; not a number where a temperature is missing.

    Examples
    --------
    >>> float(degree_days(17.0, 9.0, base_c=6.0))
    7.0
    """
    mean = (np.asarray(max_c, dtype=np.float64) + np.asarray(min_c, dtype=np.float64)) / 2
    return np.maximum(np.minimum(mean, cap_c) - base_c, 0.0)


def degree_days_held(max_c: ArrayLike, min_c: ArrayLike, *, base_c: float, cap_c: float) -> NDArray[np.float64]:
    """Return the degree-days of each day with both temperatures held between base and cap before the mean is taken.

    This is the way in which degree-days of maize are printed in the United States (10 and 30 °C, 50 and 86 °F); a
    station's table must be read by the rule it was made with.

    Examples
    --------
    >>> round(float(degree_days_held(21.11, 10.0, base_c=10.0, cap_c=30.0)), 2)
    5.55
    """
    highest = np.clip(np.asarray(max_c, dtype=np.float64), base_c, cap_c)
    lowest = np.clip(np.asarray(min_c, dtype=np.float64), base_c, cap_c)
    return np.asarray((highest + lowest) / 2 - base_c, dtype=np.float64)
