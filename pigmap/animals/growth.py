"""The curve on which pigs grow, after Gompertz, and the pace that a group's own weighings give it."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

MATURE_KG = 230.0
"""Weight that the curve comes to in the end [kg].

PMC7149552 (2020), table 1, row Pig: A = 230 kg, B = 0.0126 a day, R² 0.999, gilts fed in full, fitted from 7 to 127 kg.
"""
RATE_PER_D = 0.0126
"""Pace of the curve [1/d]. The same row: lean pigs indoors, fed in full."""

FITTED_SHARE = 0.55
"""Share of the mature weight up to which the curve was fitted. The same table."""

OUTDOORS = 0.69
"""Pace outdoors as a share of `RATE_PER_D`.

Derived: 24 to 97 kg in 111 days on pasture (North Dakota State University, Dickinson, hog feeding trials 1965) asks for
ln(ln(230/24)/ln(230/97))/111 = 0.0087 a day. Weighings of the group's own put it right.
"""
USUAL_RATE_PER_D = RATE_PER_D * OUTDOORS
RATE_SD = 0.35
"""Standard deviation of the pace of groups, as a share of the usual one. Assumed: slow breeds to full feed."""


class Pace(NamedTuple):
    """How fast a group grows along the curve."""

    rate_per_d: float
    sd_per_d: float
    """Standard deviation of it."""


def place_of(kg: ArrayLike, mature_kg: float = MATURE_KG) -> NDArray[np.float64]:
    """Return how far along the curve weights are; along it a pig goes by the pace each day.

    Examples
    --------
    >>> bool(np.isclose(place_of(MATURE_KG / math.e), 0.0))
    True
    """
    place: NDArray[np.float64] = -np.log(np.log(mature_kg / np.asarray(kg, dtype=np.float64)))
    return place


def kg_of(place: ArrayLike, mature_kg: float = MATURE_KG) -> NDArray[np.float64]:
    """Return the weights at places along the curve [kg]."""
    kg: NDArray[np.float64] = mature_kg * np.exp(-np.exp(-np.asarray(place, dtype=np.float64)))
    return kg


def grown_kg(
    start_kg: float, days: ArrayLike, rate_per_d: float = RATE_PER_D, mature_kg: float = MATURE_KG
) -> NDArray[np.float64]:
    """Return what a pig weighs so many days after it weighed `start_kg`: A exp(-ln(A/W) exp(-B t)) [kg].

    Examples
    --------
    >>> float(grown_kg(25.0, 30).round(2))
    50.27
    """
    return kg_of(place_of(start_kg, mature_kg) + rate_per_d * np.asarray(days, dtype=np.float64), mature_kg)


def days_between(start_kg: float, end_kg: float, rate_per_d: float = RATE_PER_D, mature_kg: float = MATURE_KG) -> float:
    """Return the days from one weight to another along the curve [d].

    Examples
    --------
    >>> round(days_between(25.0, 110.0), 2)
    87.42
    """
    return float(place_of(end_kg, mature_kg) - place_of(start_kg, mature_kg)) / rate_per_d


def gain_kg(kg: ArrayLike, rate_per_d: float = RATE_PER_D, mature_kg: float = MATURE_KG) -> NDArray[np.float64]:
    """Return the gain of a day at weights: B W ln(A/W), and nothing beyond the mature weight [kg/d]."""
    weights = np.asarray(kg, dtype=np.float64)
    gain: NDArray[np.float64] = np.maximum(rate_per_d * weights * np.log(mature_kg / weights), 0.0)
    return gain


def most_gain(rate_per_d: float = RATE_PER_D, mature_kg: float = MATURE_KG) -> tuple[float, float]:
    """Return the largest gain of a day, B A/e [kg/d], and the weight at which it comes, A/e [kg]."""
    return rate_per_d * mature_kg / math.e, mature_kg / math.e


def pace_of(days: NDArray[np.int64], places: NDArray[np.float64], sds: NDArray[np.float64]) -> Pace:
    """Return the pace that weighings tell, by least squares, with the usual pace as one more thing known.

    Along the curve growth is a straight line, so its steepness has a closed form. Weighings close together, or by eye,
    leave the usual pace as it is; several by scale over weeks decide alone.

    Parameters
    ----------
    days, places, sds
        Day of each weighing, its place along the curve and the standard deviation of the place, (n,).
    """
    usual, usual_sd = USUAL_RATE_PER_D, USUAL_RATE_PER_D * RATE_SD
    trust = sds**-2.0
    off = days - np.average(days, weights=trust)
    told = float(np.sum(trust * off**2)) + usual_sd**-2.0
    rate = (float(np.sum(trust * off * places)) + usual * usual_sd**-2.0) / told
    return Pace(max(rate, 0.0), told**-0.5)
