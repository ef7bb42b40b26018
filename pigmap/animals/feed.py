"""What pigs eat in a day, where nobody told it."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray

from pigmap.animals.tables import GROWING_CLASSES
from pigmap.records import Group, PigClass

READ_KG = np.array([46.7, 64.6, 83.5, 102.5])
READ_FEED_KG = np.array([1.62, 2.02, 2.30, 2.47])
"""Feed of a day by live weight [kg]. PMC5420136, table 3 (adapted from Schinckel and others)."""

WASTED = 0.05
"""Share of feed that is spilled. From memory of NRC 2012, Nutrient Requirements of Swine, table 16-1."""

GROWN_KG: Mapping[PigClass, float] = MappingProxyType(
    {PigClass.GESTATING: 2.5, PigClass.LACTATING: 6.5, PigClass.BOAR: 2.5}
)
"""Feed of a sow or boar in a day [kg]. Common practice."""


def usual_feed_kg(pig_class: PigClass, mean_kg: ArrayLike) -> NDArray[np.float64]:
    """Return what one pig eats in a day at each mean weight, fed in full, with what is spilled [kg].

    Between the weights that were printed it is read off; below and above them it follows the course of the equation of
    NRC 2012 (from memory), scaled to meet the printed ends.

    Examples
    --------
    >>> float(usual_feed_kg(PigClass.FINISHING, 83.5).round(2))
    2.42
    """
    weights = np.asarray(mean_kg, dtype=np.float64)
    if pig_class not in GROWING_CLASSES:
        return np.full_like(weights, GROWN_KG[pig_class])
    low, high = READ_FEED_KG[0] / _recalled(READ_KG[0]), READ_FEED_KG[-1] / _recalled(READ_KG[-1])
    eaten = np.interp(weights, READ_KG, READ_FEED_KG)
    eaten = np.where(weights < READ_KG[0], low * _recalled(weights), eaten)
    eaten = np.where(weights > READ_KG[-1], high * _recalled(weights), eaten)
    return np.asarray(eaten / (1.0 - WASTED), dtype=np.float64)


def daily_feed_kg(group: Group, mean_kg: ArrayLike) -> NDArray[np.float64]:
    """Return what one pig of a group is fed in a day at each mean weight [kg]: as told, else as usual.

    Where only the share of a full ration was told, it is that share of the usual.
    """
    if group.feed_kg is not None:
        return np.full_like(np.asarray(mean_kg, dtype=np.float64), group.feed_kg)
    share = 1.0 if group.feed_share is None else group.feed_share
    return usual_feed_kg(group.pig_class, mean_kg) * share


def _recalled(weights: ArrayLike) -> NDArray[np.float64]:
    """Return the feed of a growing pig, mean of barrows and gilts, without waste [kg]. From memory of NRC 2012."""
    kg = np.asarray(weights, dtype=np.float64)
    barrows = 10447.0 * (1.0 - np.exp(-np.exp(-4.283) * kg**1.0843))
    gilts = 10967.0 * (1.0 - np.exp(-np.exp(-3.803) * kg**0.9072))
    eaten: NDArray[np.float64] = (barrows + gilts) / 2.0 / 3300.0
    return eaten
