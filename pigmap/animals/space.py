"""Ground that pigs lie on, shade and roof over them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from enum import Enum
from types import MappingProxyType
from typing import NamedTuple

from pigmap.animals.tables import GROWING_CLASSES
from pigmap.records import PigClass


class Lying(Enum):
    """How a pig lies, and the area it takes for each kg^0.667 [m²]. From memory of Petherick 1983 and EFSA 2005."""

    BELLY = 0.019
    HALF = 0.033
    SIDE = 0.047


class Area(NamedTuple):
    """Least and most for one pig."""

    least_m2: float
    most_m2: float


class OrganicSpace(NamedTuple):
    """Least space of one pig in a house and in its run, pasture not counted."""

    indoor_m2: float
    run_m2: float


SOW_SHADE = Area(1.4, 1.9)
"""Roof or shade of one sow [m²]. Oklahoma State University 2007, swine facilities for production on pasture: 15 to 20
square feet."""
LITTER_SHADE = Area(1.9, 2.8)
"""Shade of a sow with her litter [m²]. From memory of MWPS-8, Swine Housing and Equipment Handbook."""
LIGHT_SHADE_M2, HEAVY_SHADE_M2, HEAVY_FROM_KG = 0.37, 0.56, 45.0
"""Shade of a growing pig up to 45 kg and over it [m²]. From memory of MWPS-8."""

_ORGANIC_UP_TO: tuple[tuple[float, OrganicSpace], ...] = (
    (30.0, OrganicSpace(0.6, 0.4)),
    (50.0, OrganicSpace(0.8, 0.6)),
    (85.0, OrganicSpace(1.1, 0.8)),
    (110.0, OrganicSpace(1.3, 1.0)),
    (math.inf, OrganicSpace(1.5, 1.2)),
)
_ORGANIC_GROWN: Mapping[PigClass, OrganicSpace] = MappingProxyType(
    {
        PigClass.GESTATING: OrganicSpace(2.5, 1.9),
        PigClass.LACTATING: OrganicSpace(7.5, 2.5),
        PigClass.BOAR: OrganicSpace(6.0, 8.0),
    }
)
"""Regulation (EC) 889/2008, annex III (replaced by 2020/464, whose part on pigs was not read). Up to a weight."""


def lying_m2(mean_kg: float, how: Lying = Lying.SIDE) -> float:
    """Return the ground that one pig lies on [m²]; in hot weather it lies on its side.

    Examples
    --------
    >>> [round(lying_m2(100.0, how), 2) for how in Lying]
    [0.41, 0.71, 1.01]
    """
    return float(how.value * mean_kg**0.667)


def shade_m2(pig_class: PigClass, mean_kg: float) -> Area:
    """Return the shade that one pig wants [m²]."""
    if pig_class is PigClass.LACTATING:
        return LITTER_SHADE
    if pig_class not in GROWING_CLASSES:
        return SOW_SHADE
    each = LIGHT_SHADE_M2 if mean_kg <= HEAVY_FROM_KG else HEAVY_SHADE_M2
    return Area(each, each)


def shelter_m2(pig_class: PigClass, mean_kg: float) -> Area:
    """Return the dry floor under a roof that one pig wants [m²]: printed for sows, for others the ground it lies on."""
    if pig_class not in GROWING_CLASSES:
        return SOW_SHADE
    return Area(lying_m2(mean_kg, Lying.HALF), lying_m2(mean_kg, Lying.SIDE))


def organic_space(pig_class: PigClass, mean_kg: float) -> OrganicSpace:
    """Return the least space of one pig by the organic rules of the European Union as they were in 2008."""
    if pig_class in _ORGANIC_GROWN:
        return _ORGANIC_GROWN[pig_class]
    return next(space for kg, space in _ORGANIC_UP_TO if mean_kg <= kg)
