"""Nets that are taken up when a group has left: those round the old ground that the new one does not use."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from datetime import date

import shapely

from pigmap.geometry.sides import DRAWN_OUT, closes, stands_along
from pigmap.records import Farm, NetUse, RowChange, Stay, StayState, change


def taken_up(farm: Farm, left: Collection[Stay], on: date, kept: shapely.Polygon | None = None) -> list[RowChange]:
    """Return the changes that have nets taken up on a day; those that keep other pigs in stay.

    Parameters
    ----------
    farm
        As it was before.
    left
        Stays that ended: the nets of their paddocks go, and those that were left standing along them.
    on
        When.
    kept
        New ground: a net along it stays, also one that goes on round a corner of it, since it closes the new ground.
    """
    uids = {stay.paddock_uid for stay in left}
    running = [stay for stay in farm.stays.values() if stay.state is StayState.RUNNING and stay not in left]
    others = {stay.paddock_uid for stay in running}
    stay_up = [stay.ground for stay in running if stay.group_uid not in {each.group_uid for each in left}]
    return [
        change(use, replace(use, taken_on=max(on, use.set_on)))
        for use in farm.net_uses.values()
        if use.taken_on is None
        and (
            use.paddock_uid in uids
            or (use.paddock_uid not in others and any(stands_along(use.run, each.ground) for each in left))
        )
        and (kept is None or not _closes(farm, use, kept))
        and not any(_closes(farm, use, ground) for ground in stay_up)
    ]


def _closes(farm: Farm, use: NetUse, ground: shapely.Polygon) -> bool:
    """Whether a net keeps the pigs on some ground in; of a line of several nets only one that runs along it does."""
    kind = farm.net_kinds.get(use.net_kind_uid)
    if kind is None or use.run.length * farm.projection.ground_per_grid > kind.length_m * DRAWN_OUT:
        return stands_along(use.run, ground)
    return closes(use.run, ground)
