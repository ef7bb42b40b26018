"""Which fields' ground a change of the farm touches."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.kept_out import kept_out
from pigmap.ground.events import meets
from pigmap.ground.model import SETTINGS
from pigmap.records import (
    ChangeSet,
    Check,
    Farm,
    Field,
    GearPlace,
    GroundJob,
    Group,
    GroupEvent,
    KeepOut,
    Paddock,
    Purpose,
    Record,
    RowChange,
    Setting,
    Stay,
    StayState,
)
from pigmap.records.projection import PROJECTION_SETTING


def touched_fields(before: Farm, after: Farm, changes: ChangeSet) -> set[str]:
    """Return the uids of the fields whose ground is another after a change; fields that are gone are among them.

    A stay touches the fields it lies on, and those where its group is or has plans: a running stay lasts until the
    next one begins. A weighing touches every field on which the group ever was.
    """
    if any(_touches_all(row) for row in changes.rows):
        return {*before.fields, *after.fields}
    touched = {row.uid for row in changes.of(Field.TABLE) if _ground_differs(row)}
    touched |= {side.field_uid for row in changes.rows for side in (row.before, row.after) if isinstance(side, Purpose)}
    looked_for = _looked_for(changes)
    shapes = [shape for farm in (before, after) for shape in _shapes(farm, looked_for)]
    shapes += [side.shape for row in changes.rows for side in (row.before, row.after) if isinstance(side, GroundJob)]
    shapes += [shape for farm, row in _both(before, after, changes) for shape in _months_off(farm, row)]
    if shapes:
        bounds = shapely.bounds(np.array(shapes, dtype=np.object_))
        fields = {**before.fields, **after.fields}
        touched |= {uid for uid, each in fields.items() if meets(bounds, each.outline.bounds).any()}
    return touched


def _both(before: Farm, after: Farm, changes: ChangeSet) -> Iterator[tuple[Farm, Record | None]]:
    """Yield each side of each change, with the farm on that side."""
    for row in changes.rows:
        yield before, row.before
        yield after, row.after


def _months_off(farm: Farm, row: Record | None) -> list[BaseGeometry]:
    """Return the ground of a keep-out that is one in some months: it is ready only outside of them."""
    if not isinstance(row, KeepOut) or not row.from_month_day or not row.to_month_day:
        return []
    ground = kept_out(row, ground_per_grid=farm.projection.ground_per_grid)
    return [] if ground.is_empty else [ground]


def _touches_all(row: RowChange) -> bool:
    if row.table == "weather_days":
        return True
    return any(
        isinstance(side, Setting) and side.key in (*SETTINGS, PROJECTION_SETTING) for side in (row.before, row.after)
    )


def _ground_differs(row: RowChange) -> bool:
    """Whether more of a field changed than its name and notes."""
    before, after = row.before, row.after
    if not isinstance(before, Field) or not isinstance(after, Field):
        return True
    names = ("outline", "ground_cover", "forage", "soil", "origin_x_m", "origin_y_m", "turned_deg", "cell_m")
    return any(getattr(before, name) != getattr(after, name) for name in names)


@dataclass(slots=True)
class _LookedFor:
    """Whose ground a change bears on: that of some stays, groups and paddocks."""

    stays: set[str] = field(default_factory=set)
    open_of: set[str] = field(default_factory=set)
    """Groups whose stays that are planned or running may end or begin on another day."""
    groups: set[str] = field(default_factory=set)
    checked: set[str] = field(default_factory=set)
    """Paddocks at which the rooting was scored."""
    redrawn: set[str] = field(default_factory=set)


def _looked_for(changes: ChangeSet) -> _LookedFor:
    found = _LookedFor()
    for row in changes.rows:
        for side in (row.before, row.after):
            match side:
                case Stay():
                    found.stays.add(side.uid)
                    found.open_of.add(side.group_uid)
                case Check(rooting_score=int()):
                    found.checked.add(side.paddock_uid)
                case Group() if _herd_differs(row):
                    found.groups.add(side.uid)
                case GearPlace(stay_uid=str(uid)):
                    found.stays.add(uid)
                case GroupEvent() | GearPlace():
                    found.groups.add(side.group_uid)
                case Paddock() if _outline_differs(row):
                    found.redrawn.add(side.uid)
    return found


def _herd_differs(row: RowChange) -> bool:
    before, after = row.before, row.after
    return not (isinstance(before, Group) and isinstance(after, Group) and _herd(before) == _herd(after))


def _herd(group: Group) -> tuple[object, ...]:
    """Return what the ground of a group's stays follows from, of the group itself."""
    return group.pig_class, group.closed_on, group.ringed, group.feed_share


def _outline_differs(row: RowChange) -> bool:
    before, after = row.before, row.after
    return not (isinstance(before, Paddock) and isinstance(after, Paddock) and before.outline == after.outline)


def _shapes(farm: Farm, looked_for: _LookedFor) -> Iterator[BaseGeometry]:
    """Yield the ground that is looked for, as it is on one side of the change."""
    for stay in farm.stays.values():
        if _is_looked_for(stay, looked_for):
            yield stay.ground
    checked = looked_for.checked
    if looked_for.redrawn:
        checked = checked | (looked_for.redrawn & {check.paddock_uid for check in farm.checks.values()})
    for uid in checked & farm.paddocks.keys():
        yield farm.paddocks[uid].outline


def _is_looked_for(stay: Stay, looked_for: _LookedFor) -> bool:
    if stay.uid in looked_for.stays or stay.group_uid in looked_for.groups or stay.paddock_uid in looked_for.checked:
        return True
    return stay.state is not StayState.PAST and stay.group_uid in looked_for.open_of
