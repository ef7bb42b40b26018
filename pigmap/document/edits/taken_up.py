"""Nets that are taken up when a group has left: those round the old ground that the new one does not use."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from datetime import date

import shapely

from pigmap.geometry.sides import stands_along
from pigmap.records import Farm, RowChange, Stay, StayState, change


def taken_up(farm: Farm, left: Collection[Stay], on: date, kept: shapely.Polygon | None = None) -> list[RowChange]:
    """Return the changes that have nets taken up on a day.

    Parameters
    ----------
    farm
        As it was before.
    left
        Stays that ended: the nets of their paddocks go, and those that were left standing along them.
    on
        When.
    kept
        New ground: a net along it stays.
    """
    uids = {stay.paddock_uid for stay in left}
    others = {stay.paddock_uid for stay in farm.stays.values() if stay.state is StayState.RUNNING and stay not in left}
    return [
        change(use, replace(use, taken_on=max(on, use.set_on)))
        for use in farm.net_uses.values()
        if use.taken_on is None
        and (
            use.paddock_uid in uids
            or (use.paddock_uid not in others and any(stands_along(use.run, each.ground) for each in left))
        )
        and (kept is None or not stands_along(use.run, kept))
    ]
