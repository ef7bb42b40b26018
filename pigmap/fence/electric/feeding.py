"""Which energizer feeds the fence of a paddock."""

from __future__ import annotations

from pigmap.records import Energizer, Farm, PlaceKind


def feeds(farm: Farm, paddock_uid: str, group_uid: str) -> Energizer | None:
    """Return the energizer that feeds a paddock while a group stands on it; None where nothing tells which.

    That which is told of the paddock, else the one that moves with the group, else the only one of the farm that
    moves with nobody. A place where an energizer stands of which nothing else is told is one, too.
    """
    paddock = farm.paddocks.get(paddock_uid)
    told = farm.energizers.get((paddock.energizer_uid or "") if paddock is not None else "")
    if told is not None:
        return told
    with_group = [each for each in farm.energizers.values() if group_uid and each.group_uid == group_uid]
    found = with_group or [each for each in farm.energizers.values() if each.group_uid is None]
    return found[0] if len(found) == 1 and (with_group or not _others_stand(farm, found[0])) else None


def _others_stand(farm: Farm, energizer: Energizer) -> bool:
    """Whether energizers stand on the farm that no row tells of, besides one of which it is not told where it is."""
    told = {each.place_uid for each in farm.energizers.values()}
    untold = [uid for uid, each in farm.places.items() if each.kind is PlaceKind.ENERGIZER and uid not in told]
    return len(untold) > (energizer.place_uid not in farm.places)
