"""Nitrogen laid on ground, and how much of it a year may bring."""

from __future__ import annotations

import math
from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import NamedTuple

from pigmap.records import Farm

CAP_SETTING = "nitrogen cap"
"""Key of the setting that puts another figure in place of `NITROGEN_CAP_KG_HA` [kg/ha in a year]."""
NITROGEN_CAP_KG_HA = 170.0
"""Nitrogen in livestock manure that a hectare may get in a year [kg].

Directive 91/676/EEC, annex III, as cited in Regulation (EEC) 2092/91, annex I.B 7.1, and in the European Union's
summary of law LEGISSUM:l28013. Local rules come first.
"""
M2_PER_HA = 10_000.0
DAYS_OF_YEAR = 365.0


class Sward(StrEnum):
    """What hay is cut from."""

    COOL = "cool-season grass"
    WARM = "warm-season grass"


class Removed(NamedTuple):
    """What hay takes off the ground."""

    nitrogen_kg: float
    phosphorus_kg: float
    potassium_kg: float


_KG_PER_TON = 0.5
"""Kilograms in a metric ton for each pound in a short ton."""
P_PER_P2O5, K_PER_K2O = 0.4364, 0.8301
_SHORT_TON_LB: Mapping[Sward, tuple[float, float, float]] = MappingProxyType(
    {Sward.COOL: (38.0, 18.0, 52.0), Sward.WARM: (46.0, 12.0, 42.5)}
)
"""N, P2O5 and K2O that a short ton takes off [lb].

Potash & Phosphate Institute, Agri-Briefs, Spring 2002, no. 6. Potassium of warm-season grass is printed as 35 to 50:
the middle of it. Ohio State University ANR-5 (2016) has 13 and 50 lb of P2O5 and K2O: local figures come first.
"""


def nitrogen_cap(farm: Farm) -> float:
    """Return the nitrogen that a hectare may get in a year [kg], as the farm has set it, else as printed."""
    value = farm.setting(CAP_SETTING, NITROGEN_CAP_KG_HA)
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value) or value <= 0:
        return NITROGEN_CAP_KG_HA
    return float(value)


def laid_kg_ha(pigs: float, grams_each: float, days: float, area_m2: float) -> float:
    """Return the nitrogen that pigs lay on ground in some days [kg/ha].

    Examples
    --------
    >>> round(laid_kg_ha(20, 33.0, 7, 2500.0), 2)
    18.48
    """
    return pigs * grams_each * days / 1000.0 / area_m2 * M2_PER_HA


def passes_before(cap_kg_ha: float, laid_each_kg_ha: float) -> int:
    """Return how many whole passes stay within a year's nitrogen."""
    return math.floor(cap_kg_ha / laid_each_kg_ha + 1e-9)


def pig_days_per_ha(grams_each: float, cap_kg_ha: float = NITROGEN_CAP_KG_HA) -> float:
    """Return the days of one pig that bring a hectare its nitrogen of a year [pigs x days/ha]."""
    return cap_kg_ha * 1000.0 / grams_each


def pigs_per_ha(kg_year: float, cap_kg_ha: float = NITROGEN_CAP_KG_HA) -> float:
    """Return how many pigs a hectare feeds all year within its nitrogen, by what one brings in a year [kg]."""
    return cap_kg_ha / kg_year


def hay_removes(tons_ha: float, sward: Sward = Sward.COOL) -> Removed:
    """Return what hay takes off a hectare [kg], by its dry yield [t/ha]."""
    nitrogen, phosphate, potash = (each * _KG_PER_TON * tons_ha for each in _SHORT_TON_LB[sward])
    return Removed(nitrogen, phosphate * P_PER_P2O5, potash * K_PER_K2O)
