"""The net stock: how many nets of a kind the farm owns, how many are free to carry."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from pigmap.fence.standing import StandingPaddock, nets_standing
from pigmap.records import Farm, NetCondition, NetKind


def sound_nets(farm: Farm, kind: NetKind, day: date) -> int:
    """Return how many nets of a kind can stand on a day: owned, sound, bought by then and not given up yet."""
    return sum(
        net.net_kind_uid == kind.uid and net.condition is NetCondition.SOUND and net.owned_on(day)
        for net in farm.nets.values()
    )


def spare_nets(farm: Farm, kind: NetKind, day: date, standing: Iterable[StandingPaddock]) -> int | None:
    """Return how many sound nets of a kind do not stand on a day; None where no net of the kind is entered."""
    if not any(net.net_kind_uid == kind.uid for net in farm.nets.values()):
        return None
    return sound_nets(farm, kind, day) - nets_standing(farm, standing, kind, day)
