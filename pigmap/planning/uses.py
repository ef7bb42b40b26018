"""The ground that stays use, each piece once however often it was used the same way."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from typing import NamedTuple

import shapely

from pigmap.records import Farm, Stay


class Use(NamedTuple):
    """The first stay on some ground, and the uids of those that used it the same way later."""

    stay: Stay
    later: tuple[str, ...]


def first_on_each_ground(stays: Iterable[Stay], apart: Callable[[Stay], Hashable]) -> list[Use]:
    """Return the first of several stays on the same ground of the same paddock; those that differ are kept apart."""
    used: dict[tuple[str, bytes, Hashable], list[Stay]] = {}
    for stay in sorted(stays, key=lambda stay: (stay.in_on, stay.uid)):
        used.setdefault((stay.paddock_uid, shapely.to_wkb(stay.ground), apart(stay)), []).append(stay)
    return [Use(found[0], tuple(stay.uid for stay in found[1:])) for found in used.values()]


_last: tuple[Farm, tuple[Use, ...]] | None = None


def uses_of(farm: Farm) -> tuple[Use, ...]:
    """Return the ground that stays of a farm use; past, running and planned stays are kept apart.

    What was asked for last is kept: several rules ask for the same.
    """
    global _last
    kept = _last
    if kept is None or kept[0] is not farm:
        kept = _last = farm, tuple(first_on_each_ground(farm.stays.values(), lambda stay: stay.state))
    return kept[1]
