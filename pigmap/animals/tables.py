"""Printed and assumed numbers about pigs, each with where it comes from."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from pigmap.records import PigClass


class Dropped(NamedTuple):
    """What one pig drops in a day [g]."""

    nitrogen_g: float
    phosphorus_g: float


_FINISHER = Dropped(39.2, 6.3)
_GESTATING = Dropped(32.0, 9.0)

DROPPED: Mapping[PigClass, Dropped] = MappingProxyType(
    {
        PigClass.WEANED: Dropped(39.2 * 0.3, 6.3 * 0.3),
        PigClass.GROWING: _FINISHER,
        PigClass.FINISHING: _FINISHER,
        PigClass.GILT: _GESTATING,
        PigClass.GESTATING: _GESTATING,
        PigClass.LACTATING: Dropped(85.0, 25.0),
        PigClass.BOAR: _GESTATING,
    }
)
"""Nitrogen and phosphorus in dung and urine [g per pig and day], before any ammonia escapes.

From memory of ASABE Standard D384.2 (American Society of Agricultural and Biological Engineers, Manure Production and
Characteristics): a finisher from 20 to 120 kg in 120 days 4.7 kg N and 0.76 kg P; a gestating sow 32 and 9 g, a
lactating sow 85 and 25 g a day. To be read in print before a record relies on it. Assumed: gilts and boars as gestating
sows, weaned pigs 0.3 of a finisher.
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
