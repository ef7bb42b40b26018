"""What is out of the ordinary with a recorded stay: facts are kept and flagged."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

import shapely

from pigmap.geometry.kept_out import in_force_during, kept_out
from pigmap.records import Farm, RowChange, Stay, StayState, change

TWO_GROUPS = "two groups"
ELSEWHERE = "group elsewhere"
OUTSIDE = "outside field"
IN_KEEP_OUT = "in keep-out"

SOME_GROUND_M2 = 1.0
"""Ground smaller than this is the play of a net and no overlap [m²]. Own choice."""


def flagged(farm: Farm, stay: Stay) -> Stay:
    """Return a stay with its flags as the rest of the farm has it; plans carry none."""
    flags = () if stay.state is StayState.PLANNED else tuple(_flags(farm, stay))
    return stay if flags == stay.flags else replace(stay, flags=flags)


def flag_others(farm: Farm, before: Stay | None, after: Stay | None) -> Sequence[RowChange]:
    """Return the changes of the flags of other stays once one stay has changed on this farm."""
    touched = [stay for stay in (before, after) if stay is not None]
    changes = []
    for other in _recorded(farm):
        if all(other.uid != stay.uid for stay in touched) and any(_meets(other, stay) for stay in touched):
            anew = flagged(farm, other)
            if anew is not other:
                changes.append(change(other, anew))
    return changes


def _flags(farm: Farm, stay: Stay) -> Iterator[str]:
    met = [other for other in _recorded(farm) if other.uid != stay.uid and _meets(other, stay)]
    if any(other.group_uid != stay.group_uid for other in met):
        yield TWO_GROUPS
    if any(other.group_uid == stay.group_uid for other in met):
        yield ELSEWHERE
    fields = shapely.union_all([field.outline for field in farm.fields.values()])
    if stay.ground.difference(fields).area > SOME_GROUND_M2:
        yield OUTSIDE
    if any(_in(farm, stay, uid) for uid in farm.keep_outs):
        yield IN_KEEP_OUT


def _in(farm: Farm, stay: Stay, keep_out_uid: str) -> bool:
    row = farm.keep_outs[keep_out_uid]
    if not in_force_during(row, stay.in_on, stay.out_on):
        return False
    ground = kept_out(row, 0.0, farm.projection.ground_per_grid)
    return bool(shapely.intersection(ground, stay.ground).area > min(SOME_GROUND_M2, ground.area / 2))


def _recorded(farm: Farm) -> Iterator[Stay]:
    return (stay for stay in farm.stays.values() if stay.state is not StayState.PLANNED)


def _meets(one: Stay, other: Stay) -> bool:
    """Whether two stays meet: one group in two places, or two groups on the same ground, on the same days."""
    if not (one.in_on < _out(other) and other.in_on < _out(one)):
        return False
    if one.group_uid == other.group_uid:
        return True
    return bool(shapely.intersection(one.ground, other.ground).area > SOME_GROUND_M2)


def _out(stay: Stay) -> date:
    return stay.out_on or date.max
