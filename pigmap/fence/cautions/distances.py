"""Distances that are kept on a farm: those in print, or the farm's own where a place asks for others."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from pigmap.fence.signs import SIGNS_APART_M
from pigmap.fence.tables import EARTHS_APART_M, ENERGIZERS_APART_M
from pigmap.records import Farm

SETTINGS: Mapping[str, str] = MappingProxyType(
    {
        "signs_apart_m": "sign spacing",
        "energizers_apart_m": "energizers apart",
        "earths_apart_m": "earths apart",
    }
)
"""The farm's setting for each distance [m]."""


class Distances(NamedTuple):
    """What is kept [m of ground]."""

    signs_apart_m: float = SIGNS_APART_M
    """Greatest distance between two warning signs."""
    energizers_apart_m: float = ENERGIZERS_APART_M
    """Least distance of fences of two energizers."""
    earths_apart_m: float = EARTHS_APART_M
    """Least distance of earth stakes from any other earth."""


def distances_of(farm: Farm) -> Distances:
    """Return what is kept on a farm; a setting that is no length counts as none."""
    told = {name: farm.setting(key) for name, key in SETTINGS.items()}
    own = {name: float(value) for name, value in told.items() if _is_length(value)}
    return Distances()._replace(**own)


def _is_length(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and 0.0 < value < 10_000.0
