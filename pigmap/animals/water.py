"""Water that pigs drink, and drinkers that they want."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from pigmap.animals import sources
from pigmap.records import PigClass
from pigmap.text import Text


class Water(NamedTuple):
    """What one pig drinks in a day."""

    least_l: float
    most_l: float
    source: Text

    @property
    def hot_l(self) -> float:
        """What to have ready in hot weather [L]."""
        return self.most_l * HOT_TIMES


US_GALLON_L, US_CUP_L = 3.785411784, 0.2365882365

HOT_TIMES = 2.0
"""Factor on the water in hot weather.

Mount and others 1971, Animal Production 13:561-563: 0.092 to 0.184 L for each kg of live weight over all temperatures,
2.1 to 2.7 L for each kg of feed at 7 to 22 °C and 2.8 to 5.0 at 30 and 33 °C. Farmers Weekly, how pig farmers cut water
use: outdoor herds up to double in hot weather.
"""

BY_KG: tuple[tuple[float, float, float], ...] = (
    (20.0, 0.5, 1.0),
    (59.0, 1.0, 1.0),
    (math.inf, 1.5, 2.0),
)
"""Up to this weight [kg] least and most of a day [US gal].

US extension, how much water does a pig consume (swine.extension.org): starting, growing, finishing (59 to 113 kg).
Assumed: heavier growing pigs as finishing ones.
"""
GROWN: Mapping[PigClass, Water] = MappingProxyType(
    {
        PigClass.GESTATING: Water(2 * US_GALLON_L, 3 * US_GALLON_L, sources.WATER_SOWS),
        PigClass.LACTATING: Water(5 * US_GALLON_L, 27.5, sources.WATER_LACTATING),
        PigClass.BOAR: Water(5.0, 13.6, sources.WATER_BOARS),
    }
)
"""Sows and boars.

Gestating: US extension 2 to 3 US gal; Kansas State University 3 to 6, which is what hot weather asks for here.
Lactating: US extension 4 to 5 US gal, Kansas State University 5 to 10, pig333.com article 16029 27.5 L on average and
up to 40 late. Boar: from memory of Defra PB7950 and OMAFRA factsheet 07-023.
"""

PIGS_PER_DRINKER, WEANED_PER_DRINKER, LEAST_DRINKERS = 15, 10, 2
"""US extension (swine.extension.org): a nipple for 15 pigs, for 10 in a nursery, at least 2 in a group."""

FLOW_CUPS: Mapping[str, tuple[float, float]] = MappingProxyType(
    {"starting": (1.0, 1.5), "growing": (2.0, 3.0), "grown": (3.0, 4.0)}
)
"""Flow of a nipple [US cups a minute]. The same source."""
FLOW_LACTATING_ML = 1500.0
"""Flow of a nipple for sows with litters [mL/min]. OMAFRA, Water Management, May-June 2012."""

WALLOW_SOW_L, SOW_KG = 67.0, 200.0
"""Water that a wallow takes for each sow in a day [L]. Derived: 60,000 L for 900 sows (Farmers Weekly, on test: 3 types
of shade). Assumed: a sow of 200 kg, other pigs by the ground that they lie on."""


def water_of(pig_class: PigClass, mean_kg: float) -> Water:
    """Return what one pig drinks in a day in mild weather.

    Examples
    --------
    >>> [round(each, 2) for each in water_of(PigClass.FINISHING, 80.0)[:2]]
    [5.68, 7.57]
    """
    if pig_class in GROWN:
        return GROWN[pig_class]
    least, most = next((least, most) for kg, least, most in BY_KG if mean_kg < kg)
    return Water(least * US_GALLON_L, most * US_GALLON_L, sources.WATER)


def drinkers_wanted(pigs: int, pig_class: PigClass = PigClass.GROWING) -> int:
    """Return how many drinkers a group wants; none without pigs.

    Examples
    --------
    >>> [drinkers_wanted(pigs) for pigs in (12, 30, 31, 46)]
    [2, 2, 3, 4]
    """
    if not pigs:
        return 0
    each = WEANED_PER_DRINKER if pig_class is PigClass.WEANED else PIGS_PER_DRINKER
    return max(math.ceil(pigs / each), LEAST_DRINKERS)


def flow_ml(pig_class: PigClass, mean_kg: float) -> tuple[float, float]:
    """Return the least and the most that should run from a nipple in a minute [mL]."""
    kind = "grown" if pig_class in GROWN else "starting" if mean_kg < BY_KG[0][0] else "growing"
    least, most = (cups * US_CUP_L * 1000.0 for cups in FLOW_CUPS[kind])
    return (least, FLOW_LACTATING_ML) if pig_class is PigClass.LACTATING else (least, most)


def wallow_l(mean_kg: float) -> float:
    """Return the water that a wallow takes for each pig in a day [L]."""
    return WALLOW_SOW_L * float((mean_kg / SOW_KG) ** (2 / 3))
