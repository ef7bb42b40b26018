"""The net stock: how many nets of a kind the farm owns in good order, day by day."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from datetime import date

from pigmap.fence.fitted import Spare
from pigmap.records import Farm, NetKind
from pigmap.records.damage import damages


def sound_nets(farm: Farm, kind: NetKind, day: date) -> int:
    """Return how many nets of a kind can stand on a day: owned, sound, bought by then and not given up yet."""
    damaged = damaged_nets(farm, day)
    return sum(
        net.net_kind_uid == kind.uid and net.owned_on(day) and net.uid not in damaged for net in farm.nets.values()
    )


def damaged_nets(farm: Farm, day: date) -> frozenset[str]:
    """Return the nets that are damaged on a day, by their uid, whether they are owned then or not."""
    return frozenset(uid for uid, times in damages(farm).items() if any(each.lasts(day) for each in times))


class Stock:
    """The nets in good order of each kind, day by day; counted once for each time in which none comes or goes."""

    def __init__(self, farm: Farm) -> None:
        self._farm = farm
        self._changes = sorted({day for day in stock_changes(farm) if day is not None})
        self._counted: dict[int, tuple[Spare, ...]] = {}

    def sound_on(self, day: date) -> tuple[Spare, ...]:
        """Return them on a day, without kinds of which no net was ever entered: nobody knows how many there are."""
        time = bisect_right(self._changes, day)
        if time not in self._counted:
            entered = {net.net_kind_uid for net in self._farm.nets.values()}
            kinds = [kind for uid, kind in self._farm.net_kinds.items() if uid in entered]
            self._counted[time] = tuple(Spare(kind, sound_nets(self._farm, kind, day)) for kind in kinds)
        return self._counted[time]


def stock_changes(farm: Farm) -> Iterator[date | None]:
    """Yield the days on which a net comes into use, goes out of it, is damaged, or is mended."""
    for net in farm.nets.values():
        yield from (net.first_used_on, net.retired_on)
    for times in damages(farm).values():
        yield from (day for damage in times for day in damage)
