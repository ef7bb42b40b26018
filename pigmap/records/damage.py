"""From which day to which a net is damaged: one rule for all who count those in good order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from types import MappingProxyType
from typing import NamedTuple

from pigmap.records.farm import Farm, Rows
from pigmap.records.net import Net, NetCondition, NetRepair


class Damage(NamedTuple):
    """A time in which a net is damaged."""

    first: date | None
    """Its first day; None where nobody told it: then as far back as there is anything."""
    mended_on: date | None
    """The day on which it is in good order again; None where it is not mended."""

    def lasts(self, day: date) -> bool:
        """Whether a day is part of it."""
        return (self.first is None or self.first <= day) and (self.mended_on is None or day < self.mended_on)


def is_damaged(farm: Farm, net: Net, day: date) -> bool:
    """Whether a net is damaged on a day."""
    return any(each.lasts(day) for each in damages(farm).get(net.uid, ()))


_last: tuple[Rows[Net], Rows[NetRepair], Mapping[str, tuple[Damage, ...]]] | None = None


def damages(farm: Farm) -> Mapping[str, tuple[Damage, ...]]:
    """Return the times in which each net is damaged, by its uid, in order; those that never were are left out."""
    global _last
    kept = _last
    if kept is None or kept[0] is not farm.nets or kept[1] is not farm.net_repairs:
        found: dict[str, tuple[Damage, ...]] = {}
        for uid, damage in _told(farm):
            found[uid] = (*found.get(uid, ()), damage)
        kept = _last = farm.nets, farm.net_repairs, MappingProxyType(found)
    return kept[2]


def _told(farm: Farm) -> Iterator[tuple[str, Damage]]:
    for repair in sorted(farm.net_repairs.values(), key=lambda each: (each.mended_on, each.uid)):
        if repair.damaged_on is not None:
            yield repair.net_uid, Damage(repair.damaged_on, repair.mended_on)
    for net in farm.nets.values():
        if net.condition is NetCondition.DAMAGED:
            yield net.uid, Damage(net.damaged_on, None)
