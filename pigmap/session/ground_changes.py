"""Which fields' ground a change of the farm touches."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.ground.events import meets
from pigmap.ground.model import SETTINGS
from pigmap.records import (
    ChangeSet,
    Check,
    Farm,
    Field,
    Group,
    GroupEvent,
    Paddock,
    RowChange,
    Setting,
    Stay,
    StayState,
)


def touched_fields(before: Farm, after: Farm, changes: ChangeSet) -> set[str]:
    """Return the uids of the fields whose ground is another after a change; fields that are gone are among them.

    A stay touches the fields it lies on, and those where its group has plans or is without a day out: a stay with no
    end lasts until the next one begins. A weighing touches every field on which the group ever was.
    """
    if any(_touches_all(row) for row in changes.rows):
        return {*before.fields, *after.fields}
    touched = {row.uid for row in changes.of(Field.TABLE) if _ground_differs(row)}
    shapes = [shape for row in changes.rows for farm in (before, after) for shape in _shapes(farm, row)]
    if shapes:
        bounds = shapely.bounds(np.array(shapes, dtype=np.object_))
        fields = {**before.fields, **after.fields}
        touched |= {uid for uid, field in fields.items() if meets(bounds, field.outline.bounds).any()}
    return touched


def _touches_all(row: RowChange) -> bool:
    if row.table == "weather_days":
        return True
    return any(isinstance(side, Setting) and side.key in SETTINGS for side in (row.before, row.after))


def _ground_differs(row: RowChange) -> bool:
    """Whether more of a field changed than its name and notes."""
    before, after = row.before, row.after
    if not isinstance(before, Field) or not isinstance(after, Field):
        return True
    names = ("outline", "ground_cover", "origin_x_m", "origin_y_m", "turned_deg", "cell_m")
    return any(getattr(before, name) != getattr(after, name) for name in names)


def _shapes(farm: Farm, row: RowChange) -> Iterator[BaseGeometry]:
    """Yield the ground that a changed row bears on, as it is on one side of the change."""
    for side in (row.before, row.after):
        match side:
            case Stay():
                yield side.ground
                yield from _grounds(stay for stay in _stays(farm, side.group_uid) if _is_open(stay))
            case Check(rooting_score=int()):
                yield from _looked_at(farm, side.paddock_uid)
            case Group():
                yield from _grounds(_stays(farm, side.uid)) if _class_differs(row) else ()
            case GroupEvent():
                yield from _grounds(_stays(farm, side.group_uid))
            case Paddock() if any(check.paddock_uid == side.uid for check in farm.checks.values()):
                yield side.outline


def _class_differs(row: RowChange) -> bool:
    before, after = row.before, row.after
    return not (isinstance(before, Group) and isinstance(after, Group) and before.pig_class == after.pig_class)


def _stays(farm: Farm, group_uid: str) -> Iterator[Stay]:
    return (stay for stay in farm.stays.values() if stay.group_uid == group_uid)


def _is_open(stay: Stay) -> bool:
    return stay.out_on is None or stay.state is StayState.PLANNED


def _grounds(stays: Iterable[Stay]) -> Iterator[BaseGeometry]:
    return (stay.ground for stay in stays)


def _looked_at(farm: Farm, paddock_uid: str) -> Iterator[BaseGeometry]:
    yield from _grounds(stay for stay in farm.stays.values() if stay.paddock_uid == paddock_uid)
    if paddock_uid in farm.paddocks:
        yield farm.paddocks[paddock_uid].outline
