"""Printed and assumed numbers about pigs, each with where it comes from."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from pigmap.records import PigClass

GROWING_CLASSES = frozenset({PigClass.WEANED, PigClass.GROWING, PigClass.FINISHING, PigClass.GILT})
"""Pigs that gain weight by the day; sows and boars keep what they weigh, from weighing to weighing."""


class Dropped(NamedTuple):
    """What one pig drops in a day [g]."""

    nitrogen_g: float
    phosphorus_g: float


_FINISHER = Dropped(39.2, 6.3)
_GESTATING = Dropped(32.0, 9.0)

DROPPED: Mapping[PigClass, Dropped] = MappingProxyType(
    {
        PigClass.WEANED: Dropped(11.4, 1.9),
        PigClass.GROWING: _FINISHER,
        PigClass.FINISHING: _FINISHER,
        PigClass.GILT: _GESTATING,
        PigClass.GESTATING: _GESTATING,
        PigClass.LACTATING: Dropped(85.0, 25.0),
        PigClass.BOAR: Dropped(28.0, 9.7),
    }
)
"""Nitrogen and phosphorus in dung and urine [g per pig and day], before any ammonia escapes.

From memory of ASABE Standard D384.2 (American Society of Agricultural and Biological Engineers, Manure Production and
Characteristics), table 1: a nursery pig in 36 days 0.41 kg N and 0.068 kg P, a finisher in 120 days 4.7 and 0.76 kg; a
gestating sow 32 and 9 g a day, a lactating sow 85 and 25 g, a boar 28 and 9.7 g. To be read in print before a record
relies on it; for nitrogen `pigmap.animals.manure` has figures that were read. Assumed: gilts as gestating sows.
"""

USUAL_KG: Mapping[PigClass, float] = MappingProxyType(
    {
        PigClass.WEANED: 12.0,
        PigClass.GROWING: 40.0,
        PigClass.FINISHING: 80.0,
        PigClass.GILT: 120.0,
        PigClass.GESTATING: 200.0,
        PigClass.LACTATING: 200.0,
        PigClass.BOAR: 220.0,
    }
)
"""Live weight of a pig that was never weighed [kg]. Assumed."""
LIGHT, HEAVY = 0.3, 2.5
"""Shares of the usual weight of a kind of pigs beyond which it is asked for again. Own choice."""
