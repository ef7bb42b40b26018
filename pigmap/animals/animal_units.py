"""Animal units: the same word for several things, so that none is told without its definition."""

from __future__ import annotations

from enum import Enum
from typing import NamedTuple

from pigmap.records import PigClass
from pigmap.text import Text

UNIT_KG = 453.6
"""Live weight of one unit: 1,000 lb (Chastain and others, Swine manure production, chapter 3)."""
NRCS_BREEDING, NRCS_SLAUGHTER = 2.67, 9.09
"""Pigs to a unit. USDA NRCS, Manure Production/Nutrient Content Data: breeding of 169.9 kg, slaughter of 49.9 kg."""
COUNTED_FROM_KG = 25.0
EPA_EACH = 0.4
"""40 CFR 122, appendix B (older text), for swine over 25 kg; lighter ones do not count. As in National Academies 2003,
Air Emissions from AFOs, appendix E."""
ILLINOIS_LIGHT = 0.03
"""510 ILCS 77/10.10: 0.4 over 25 kg, 0.03 under."""
LSU_PIGLET, LSU_PIGLET_UNDER_KG, LSU_SOW, LSU_SOW_FROM_KG, LSU_OTHER = 0.027, 20.0, 0.5, 50.0, 0.3
"""Eurostat glossary, Livestock unit; Regulation (EC) 1166/2008: piglets under 20 kg, sows from 50 kg, other pigs."""

_BREEDING = frozenset({PigClass.GESTATING, PigClass.LACTATING, PigClass.BOAR, PigClass.GILT})
_SOWS = frozenset({PigClass.GESTATING, PigClass.LACTATING, PigClass.GILT})


class Definition(Enum):
    """What one unit is, in words."""

    BY_WEIGHT = Text("1,000 lb of live weight")
    NRCS = Text("USDA NRCS, by number of pigs")
    EPA = Text("US EPA, pigs over 25 kg")
    ILLINOIS = Text("Illinois, 510 ILCS 77")
    LSU = Text("EU livestock units (Eurostat)")


class AnimalUnits(NamedTuple):
    """How many units pigs are, and of which."""

    definition: Definition
    units: float


def animal_units(definition: Definition, pig_class: PigClass, mean_kg: float, pigs: float) -> AnimalUnits:
    """Return how many units pigs are by one definition.

    Examples
    --------
    >>> [round(animal_units(each, PigClass.FINISHING, 100.0, 1).units, 2) for each in Definition]
    [0.22, 0.11, 0.4, 0.4, 0.3]
    """
    return AnimalUnits(definition, pigs * _each(definition, pig_class, mean_kg))


def all_units(pig_class: PigClass, mean_kg: float, pigs: float) -> tuple[AnimalUnits, ...]:
    """Return how many units pigs are by each definition."""
    return tuple(animal_units(each, pig_class, mean_kg, pigs) for each in Definition)


def _each(definition: Definition, pig_class: PigClass, mean_kg: float) -> float:
    if definition is Definition.BY_WEIGHT:
        return mean_kg / UNIT_KG
    if definition is Definition.NRCS:
        return 1.0 / (NRCS_BREEDING if pig_class in _BREEDING else NRCS_SLAUGHTER)
    if definition is Definition.LSU:
        return _livestock_unit(pig_class, mean_kg)
    if mean_kg > COUNTED_FROM_KG:
        return EPA_EACH
    return ILLINOIS_LIGHT if definition is Definition.ILLINOIS else 0.0


def _livestock_unit(pig_class: PigClass, mean_kg: float) -> float:
    if mean_kg < LSU_PIGLET_UNDER_KG:
        return LSU_PIGLET
    return LSU_SOW if pig_class in _SOWS and mean_kg >= LSU_SOW_FROM_KG else LSU_OTHER
