"""Nitrogen and phosphorus that pigs leave behind, by the published figures that the farm goes by."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray

from pigmap.animals import sources
from pigmap.animals.feed import daily_feed_kg
from pigmap.animals.growth import USUAL_RATE_PER_D, gain_kg
from pigmap.animals.tables import DROPPED, GROWING_CLASSES
from pigmap.records import Farm, Group, PigClass
from pigmap.text import Text

SETTING = "manure source"
"""Key of the setting that chooses among `ManureSource`."""

DAYS_OF_YEAR = 365.0


class ManureSource(StrEnum):
    """Whose figures count."""

    UK = "UK SI 2008/2349"
    ASABE = "ASABE D384.2"
    NRCS = "NRCS handbook"
    GERMAN = "German places"
    BALANCE = "mass balance"


SOURCE_WORDS: Mapping[ManureSource, Text] = MappingProxyType(
    {
        ManureSource.UK: sources.UK_MANURE,
        ManureSource.ASABE: sources.ASABE_MANURE,
        ManureSource.NRCS: sources.NRCS_MANURE,
        ManureSource.GERMAN: sources.GERMAN_PLACES,
        ManureSource.BALANCE: sources.MASS_BALANCE,
    }
)

UK_FROM_KG = np.array([0.0, 13.0, 31.0, 66.0])
UK_BY_KG = np.array([4.1, 14.2, 24.0, 33.0])
"""Nitrogen by weight, from 7, 13, 31 and 66 kg on [g per pig and day].

UK Statutory Instrument 2008/2349, Nitrate Pollution Prevention Regulations 2008, Schedule 1. Net of losses in housing
and store (from memory of the guidance), so a lower figure than what falls on pasture. Assumed: below 7 kg as from 7.
"""
UK_GILT_G, UK_GILT_FROM_KG = 38.0, 66.0
UK_SOW_G = 49.0
"""A sow with her litter to 7 kg, feed without synthetic amino acids. The same schedule; with them it is 44."""
UK_SOW_AMINO_ACIDS_G = 44.0
UK_BOAR_G, UK_BOAR_FROM_KG = 48.0, 150.0
"""A boar over 150 kg; a lighter one counts as a finisher. The same schedule."""

GERMAN_KG_YEAR: Mapping[PigClass, float] = MappingProxyType(
    {
        PigClass.WEANED: 3.0,
        PigClass.GROWING: 9.9,
        PigClass.FINISHING: 9.9,
        PigClass.GILT: 9.9,
        PigClass.GESTATING: 26.7,
        PigClass.LACTATING: 26.7,
        PigClass.BOAR: 22.1,
    }
)
"""Nitrogen that a place brings in a year [kg]: weaner to 25 kg, fattening 25 to 125 kg, sow with litter, boar.

Environmental Sciences Europe 2021, doi 10.1186/s12302-021-00554-3, table 3 (Germany). Assumed: gilts as fattening pigs.
"""

NRCS_KG: Mapping[PigClass, tuple[float, float]] = MappingProxyType(
    {
        PigClass.WEANED: (0.92, 0.15),
        PigClass.GROWING: (0.54, 0.09),
        PigClass.FINISHING: (0.54, 0.09),
        PigClass.GILT: (0.16, 0.05),
        PigClass.GESTATING: (0.16, 0.05),
        PigClass.LACTATING: (0.45, 0.13),
        PigClass.BOAR: (0.14, 0.05),
    }
)
"""Nitrogen and phosphorus of 1,000 kg of pigs in a day [kg].

From memory of USDA NRCS, Agricultural Waste Management Field Handbook, part 651, chapter 4, table 4-10 (2008). Assumed:
gilts as gestating sows.
"""

RETAINED_G_KG = 29.6
"""Nitrogen that stays in the pig [g for each kg of gain]. Danish advisory page on nitrogen in pig houses."""
PROTEIN_PER_N = 6.25
"""Protein over nitrogen. The same page."""
LIVE_PER_CARCASS = 1.31
"""Live weight over carcass weight. The same page."""
USUAL_PROTEIN_G_KG = 150.0
"""Crude protein of the feed where nobody told it [g/kg]. Assumed."""


def manure_source(farm: Farm) -> ManureSource:
    """Return whose figures the farm goes by; those of the UK where nothing, or nothing known, is set."""
    value = farm.setting(SETTING, ManureSource.UK.value)
    return next((each for each in ManureSource if each.value == value), ManureSource.UK)


def balance_kg(gain: ArrayLike, feed: ArrayLike, protein_g_kg: float) -> NDArray[np.float64]:
    """Return the nitrogen that pigs leave: what the feed holds less what stays in the gain [kg].

    Parameters
    ----------
    gain, feed
        Live weight gained and feed eaten [kg].
    protein_g_kg
        Crude protein of the feed [g/kg].

    Examples
    --------
    >>> gain = 85 * LIVE_PER_CARCASS - 31
    >>> round(float(balance_kg(gain, gain * 2.65, 150.0)), 3)
    2.732
    """
    eaten = np.asarray(feed, dtype=np.float64) * protein_g_kg / PROTEIN_PER_N
    left: NDArray[np.float64] = np.maximum(eaten - np.asarray(gain, dtype=np.float64) * RETAINED_G_KG, 0.0) / 1000.0
    return left


def nitrogen_g(group: Group, mean_kg: ArrayLike, source: ManureSource = ManureSource.UK) -> NDArray[np.float64]:
    """Return the nitrogen that one pig of a group leaves in a day, at each mean weight [g]."""
    weights = np.asarray(mean_kg, dtype=np.float64)
    if source is ManureSource.UK:
        return _uk_g(group.pig_class, weights)
    if source is ManureSource.NRCS:
        return weights * NRCS_KG[group.pig_class][0]
    if source is ManureSource.BALANCE:
        return _balance_g(group, weights)
    if source is ManureSource.GERMAN:
        return np.full_like(weights, GERMAN_KG_YEAR[group.pig_class] * 1000.0 / DAYS_OF_YEAR)
    return np.full_like(weights, DROPPED[group.pig_class].nitrogen_g)


def phosphorus_g(group: Group, mean_kg: ArrayLike, source: ManureSource = ManureSource.UK) -> NDArray[np.float64]:
    """Return the phosphorus that one pig leaves in a day [g]; from memory, as no source that was read prints it."""
    weights = np.asarray(mean_kg, dtype=np.float64)
    if source is ManureSource.NRCS:
        return weights * NRCS_KG[group.pig_class][1]
    return np.full_like(weights, DROPPED[group.pig_class].phosphorus_g)


def _uk_g(pig_class: PigClass, weights: NDArray[np.float64]) -> NDArray[np.float64]:
    if pig_class in (PigClass.GESTATING, PigClass.LACTATING):
        return np.full_like(weights, UK_SOW_G)
    by_kg: NDArray[np.float64] = UK_BY_KG[np.searchsorted(UK_FROM_KG, weights, side="right") - 1]
    if pig_class is PigClass.GILT:
        return np.where(weights >= UK_GILT_FROM_KG, UK_GILT_G, by_kg)
    if pig_class is PigClass.BOAR:
        return np.where(weights > UK_BOAR_FROM_KG, UK_BOAR_G, by_kg)
    return by_kg


def _balance_g(group: Group, weights: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return nitrogen by the mass balance; sows and boars are taken to keep nothing of it."""
    told = group.feed_protein_g_kg
    gain = gain_kg(weights, USUAL_RATE_PER_D) if group.pig_class in GROWING_CLASSES else np.zeros_like(weights)
    feed = daily_feed_kg(group, weights)
    return balance_kg(gain, feed, USUAL_PROTEIN_G_KG if told is None else told) * 1000.0
