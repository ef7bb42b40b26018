"""Nets in figures a keeper asks for: owned, standing, spare, and what a move carries."""

from __future__ import annotations

from collections import Counter
from datetime import date
from typing import NamedTuple

from pigmap.fence.count import nets_for
from pigmap.geometry.runs import closing
from pigmap.qt.whereabouts import Book
from pigmap.records import Farm, NetCondition, Stay


class NetTally(NamedTuple):
    """How many nets of a kind there are."""

    owned: int
    standing: int
    damaged: int

    @property
    def spare(self) -> int:
        """Sound nets that are not standing."""
        return max(0, self.owned - self.damaged - self.standing)


class Carried(NamedTuple):
    """Nets of one move."""

    carry: int
    leave: int


def tallies(farm: Farm, day: date) -> dict[str, NetTally]:
    """Return the nets of each kind on a day, by the kind's uid."""
    owned: Counter[str] = Counter()
    damaged: Counter[str] = Counter()
    for net in farm.nets.values():
        if net.retired_on is None or net.retired_on > day:
            owned[net.net_kind_uid] += 1
            damaged[net.net_kind_uid] += net.condition is NetCondition.DAMAGED
    standing = Counter(
        use.net_kind_uid
        for use in farm.net_uses.values()
        if use.set_on <= day and (use.taken_on is None or use.taken_on > day)
    )
    return {uid: NetTally(owned[uid], standing[uid], damaged[uid]) for uid in farm.net_kinds}


def carried_on(book: Book, before: Stay | None, after: Stay) -> Carried | None:
    """Return the nets of a move as `carried` does, worked out once for a farm."""
    key = (before.uid if before is not None else "", after.uid)
    if key not in book.kept:
        book.kept[key] = carried(book.farm, before, after)
    found = book.kept[key]
    return found if isinstance(found, Carried) else None


def carried(farm: Farm, before: Stay | None, after: Stay) -> Carried | None:
    """Return the nets that a move carries, and those it leaves where they stand; None where nothing tells.

    Parameters
    ----------
    before, after
        The stays it goes between; no stay before means that nothing stands yet.
    """
    paddock = farm.paddocks.get(after.paddock_uid)
    kind = farm.net_kinds.get(paddock.net_kind_uid or "") if paddock else None
    if paddock is None or kind is None:
        return None
    standing = [before.ground] if before is not None else []
    both = closing(paddock.outline, standing, farm.projection.ground_per_grid)
    return Carried(nets_for(both.open, kind), nets_for(both.shared, kind) if both.shared else 0)
