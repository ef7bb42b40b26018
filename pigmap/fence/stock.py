"""The net stock: how many nets of a kind the farm owns, how many are free to carry."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from pigmap.fence.standing import StandingPaddock, nets_standing
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


def spare_nets(farm: Farm, kind: NetKind, day: date, standing: Iterable[StandingPaddock]) -> int | None:
    """Return how many sound nets of a kind do not stand on a day; None where no net of the kind is entered."""
    if not any(net.net_kind_uid == kind.uid for net in farm.nets.values()):
        return None
    return sound_nets(farm, kind, day) - nets_standing(farm, standing, kind, day)
