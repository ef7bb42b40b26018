"""Gear that is set down by a click: whose it is, and from which day it stands there."""

from __future__ import annotations

from datetime import date

import shapely

from pigmap.document.edits import set_gear
from pigmap.errors import EditError
from pigmap.records import AS_PLANNED, Edit, Farm, GearKind, Lasting, gear_standing, lasting_on

REACH_M = 15.0
"""Gear so far outside a paddock still counts to it: a tank stands behind the fence. Assumed [grid m]."""


def gear_edit(farm: Farm, day: date, kind: GearKind, x_m: float, y_m: float, today: date = AS_PLANNED) -> Edit:
    """Return the edit that tells of gear that stands at a point on a day.

    It is that of the pigs whose paddock lies there on that day. What is told first of a kind in a stay stands there
    from its first day on; what is told later was moved on the day that is shown.

    Raises
    ------
    EditError
        If no pigs are there on that day.
    """
    point = shapely.Point(x_m, y_m)
    there = [each for each in lasting_on(farm, today).values() if each.covers(day)]
    near = min(there, key=lambda each: (each.stay.ground.distance(point), each.stay.uid), default=None)
    if near is None or near.stay.ground.distance(point) > REACH_M:
        raise EditError(
            "No pigs are there on {day}: nobody knows whose gear it is.",
            remedy="Click in the paddock of a group, or show a day on which one is there.",
            day=day,
        )
    stay = near.stay
    return set_gear(kind, stay.group_uid, point, _since(farm, near, kind, day, today), stay_uid=stay.uid)


def _since(farm: Farm, near: Lasting, kind: GearKind, day: date, today: date) -> date:
    told = (
        each.place.kind is kind and each.place.group_uid == near.stay.group_uid and each.first < day
        for each in gear_standing(farm, today)
        if each.end is None or each.end > near.first
    )
    return day if any(told) else near.first
