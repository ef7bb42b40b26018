"""Pigs that take the night to cross: the new nets stand, the old ones are not free yet."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

import shapely

from pigmap.document.edits.find import row_of, rows_with
from pigmap.errors import EditError
from pigmap.records import Edit, Farm, NetUse, Paddock, RowChange, Stay, StayState, add
from pigmap.text import Text


class NetSet(NamedTuple):
    """A net that stands round new ground before the pigs are on it."""

    kind_uid: str
    line: shapely.LineString
    """Where it stands [grid m]."""
    since: date


def did_not_cross(stay_uid: str, nets: Sequence[NetSet], on: date) -> Edit:
    """Return the edit that records that new ground was fenced and the pigs did not cross: both fences stand.

    The stay that was to begin goes on being planned, so it begins the next day at the earliest; the nets that are
    written down count as standing from then on.

    Parameters
    ----------
    stay_uid
        The planned stay on the new ground.
    nets
        All that closes it, also what closes the old ground too.
    on
        When it was fenced.
    """

    def changes(farm: Farm) -> Sequence[RowChange]:
        stay = row_of(farm, Stay, stay_uid)
        paddock = row_of(farm, Paddock, stay.paddock_uid)
        if stay.state is not StayState.PLANNED:
            raise EditError(
                "The pigs are in {paddock} since {day}.",
                remedy="If they are not, undo that they moved, and say then that they did not cross.",
                paddock=paddock.name,
                day=stay.in_on,
            )
        if any(use.stands(on) for use in rows_with(farm, NetUse, "paddock_uid", paddock.uid)):
            return []
        return [
            add(NetUse(net_kind_uid=net.kind_uid, paddock_uid=paddock.uid, run=net.line, set_on=min(net.since, on)))
            for net in nets
        ]

    return Edit(Text("Did not cross on {day}.", {"day": on}), changes, names=stay_uid)
