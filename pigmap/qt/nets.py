"""Nets in figures a keeper asks for: owned, standing, spare, and what a move carries."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from pigmap.fence.count import nets_for
from pigmap.fence.extents import Fenced, nets_round, shared_nets
from pigmap.fence.standing import nets_standing, standing_on
from pigmap.fence.stock import sound_nets
from pigmap.geometry.runs import closing
from pigmap.qt.whereabouts import Book, book_of
from pigmap.records import AS_PLANNED, Farm, Net, NetKind, Stay


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


def tallies(farm: Farm, day: date, today: date = AS_PLANNED) -> dict[str, NetTally]:
    """Return the nets of each kind on a day, by the kind's uid; worked out once for a farm and a day."""
    kept = book_of(farm, today).kept
    key = ("nets", day.isoformat())
    if key not in kept:
        kept[key] = _tallies(farm, day, today)
    found = kept[key]
    return found if isinstance(found, dict) else {}


def _tallies(farm: Farm, day: date, today: date) -> dict[str, NetTally]:
    standing = standing_on(farm, day, today=today)
    made = {}
    for uid, kind in farm.net_kinds.items():
        owned = sum(net.net_kind_uid == uid and _owned(net, day) for net in farm.nets.values())
        damaged = owned - sound_nets(farm, kind, day)
        made[uid] = NetTally(owned, nets_standing(farm, standing, kind, day), damaged)
    return made


def _owned(net: Net, day: date) -> bool:
    bought = net.first_used_on is None or net.first_used_on <= day
    return bought and (net.retired_on is None or day < net.retired_on)


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
    return Carried(nets_for(both.open, kind), _left(farm, before, after, kind) if before is not None else 0)


def _left(farm: Farm, before: Stay, after: Stay, kind: NetKind) -> int:
    """Return the nets round the ground of the stay before that the next paddock uses too."""
    old = farm.paddocks.get(before.paddock_uid)
    its = farm.net_kinds.get(old.net_kind_uid or "", kind) if old is not None else kind
    nets = nets_round(farm, [Fenced(before.ground, its, before.paddock_uid)], after.in_on)
    return len(shared_nets(farm.paddocks[after.paddock_uid].outline, nets))
