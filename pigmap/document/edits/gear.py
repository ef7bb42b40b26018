"""Where the gear of a group stands, and when tank and feeder were filled."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Literal

import shapely

from pigmap.document.edits.find import row_of
from pigmap.records import Edit, Farm, GearKind, GearPlace, Group, RowChange, Stay, add, change, new_uid
from pigmap.text import Text, Value


def set_gear(
    kind: GearKind,
    group_uid: str,
    point: shapely.Point,
    set_on: date,
    *,
    stay_uid: str | None = None,
    note: str = "",
    uid: str = "",
) -> Edit:
    """Return the edit that tells where gear of a group stands from a day on.

    Where it was told to stand elsewhere from an earlier day on that stays true: gear is moved within a stay. Raises
    `EditError` when it is done, if the group or the stay is gone.
    """
    row = GearPlace(
        uid=uid or new_uid(), kind=kind, group_uid=group_uid, point=point, set_on=set_on, stay_uid=stay_uid, note=note
    )

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Group, group_uid)
        if stay_uid is not None:
            row_of(farm, Stay, stay_uid)
        return [add(row)]

    values: dict[str, Value] = {"gear": Text(str(kind).capitalize()), "day": set_on}
    return Edit(Text("{gear} stands there since {day}.", values), changes)


def move_gear(uid: str, point: shapely.Point) -> Edit:
    """Return the edit that puts right where gear stood; gear that was moved is set anew on the day instead."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        row = row_of(farm, GearPlace, uid)
        return [change(row, replace(row, point=point))]

    return Edit(Text("Gear put right."), changes)


_FILLED = {"tank": ("tank_filled_on", "Tank"), "feeder": ("feeder_filled_on", "Feeder")}


def filled(group_uid: str, what: Literal["tank", "feeder"], day: date) -> Edit:
    """Return the edit that tells that tank or feeder of a group was filled on a day."""
    column, said = _FILLED[what]

    def changes(farm: Farm) -> Sequence[RowChange]:
        row = row_of(farm, Group, group_uid)
        told: dict[str, date] = {column: day}
        return [change(row, replace(row, **told))]  # type: ignore[arg-type]

    return Edit(Text("{what} filled on {day}.", {"what": Text(said), "day": day}), changes)
