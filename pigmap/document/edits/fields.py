"""Fields and their purposes: draw, reshape, say what they are for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import shapely

from pigmap.document.edits.choices import amend
from pigmap.document.edits.find import row_of
from pigmap.errors import EditError
from pigmap.geometry.direction import field_direction, frame_origin
from pigmap.records import Edit, Farm, Field, GroundCover, Purpose, RowChange, Use, add, change, new_uid
from pigmap.text import Text

CELL_M = 2.0
"""Side of a cell of a new field [grid m]."""


def add_field(
    name: str,
    outline: shapely.Polygon | shapely.MultiPolygon,
    *,
    ground_cover: GroundCover = GroundCover.PASTURE,
    soil: str | None = None,
    note: str = "",
    cell_m: float = CELL_M,
    turned_deg: float | None = None,
    uid: str = "",
) -> Edit:
    """Return the edit that adds a field; its cells follow its own direction unless one is given.

    Raises
    ------
    EditError
        When it is done, if the outline encloses no ground.
    """
    shape = as_ground(name, outline)
    direction = field_direction(shape) if turned_deg is None else turned_deg % 90.0
    origin_x, origin_y = frame_origin(shape, direction)
    row = Field(
        uid=uid or new_uid(),
        name=name,
        ground_cover=ground_cover,
        outline=shape,
        soil=soil,
        origin_x_m=origin_x,
        origin_y_m=origin_y,
        turned_deg=direction,
        cell_m=cell_m,
        note=note,
    )
    return Edit(Text("{name} added.", {"name": name}), lambda farm: [add(row)])


def as_ground(name: str, outline: shapely.Polygon | shapely.MultiPolygon) -> shapely.MultiPolygon:
    """Return an outline as the shape of a field.

    Raises
    ------
    EditError
        If it encloses no ground or crosses itself.
    """
    if outline.is_empty or outline.area <= 0.0:
        raise EditError("{name} encloses no ground.", remedy="Draw at least three corners.", name=name)
    if not shapely.is_valid(outline):
        raise EditError(
            "The edge of {name} crosses itself.", remedy="Move a corner so that it goes round once.", name=name
        )
    return outline if isinstance(outline, shapely.MultiPolygon) else shapely.MultiPolygon([outline])


def reshape_field(uid: str, outline: shapely.Polygon | shapely.MultiPolygon) -> Edit:
    """Return the edit that gives a field another outline; its cells keep their places."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        field = row_of(farm, Field, uid)
        return [change(field, replace(field, outline=as_ground(field.name, outline)))]

    return Edit(Text("{name} reshaped.", {"name": Text("Field")}), changes, names=uid)


def set_purpose(
    field_uid: str,
    from_month_day: str,
    to_month_day: str,
    purpose: Use,
    *,
    rest_days_wanted: int | None = None,
    rooting_wanted: float | None = None,
    uid: str = "",
) -> Edit:
    """Return the edit that says what a field is for in a part of the year (``MM-DD``, both days included)."""
    row = Purpose(
        uid=uid or new_uid(),
        field_uid=field_uid,
        from_month_day=from_month_day,
        to_month_day=to_month_day,
        purpose=purpose,
        rest_days_wanted=rest_days_wanted,
        rooting_wanted=rooting_wanted,
    )

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Field, field_uid)
        return [add(row)]

    return Edit(Text("Purpose set: {purpose}.", {"purpose": Text(str(purpose))}), changes)


def change_purpose(uid: str, **columns: Any) -> Edit:
    """Return the edit that changes a part of a field's year: its days, its purpose, or what is wanted of it."""
    fresh = amend(Purpose.TABLE, uid, **columns)
    return Edit(Text("Purpose changed."), fresh.changes)
