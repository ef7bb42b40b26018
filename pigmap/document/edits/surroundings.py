"""Keep-outs, ways, flow lines and places: draw, reshape, move."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.document.edits.find import row_of
from pigmap.errors import EditError
from pigmap.records import (
    Edit,
    Farm,
    FlowLine,
    KeepOut,
    Place,
    PlaceKind,
    Reason,
    RowChange,
    Way,
    WayKind,
    add,
    change,
    new_uid,
)
from pigmap.text import Text


def add_keep_out(shape: BaseGeometry, reason: Reason, *, uid: str = "", **columns: Any) -> Edit:
    """Return the edit that adds a keep-out; `columns` are further columns of `KeepOut`.

    Raises
    ------
    EditError
        If the shape is an area that crosses itself, or a line or point without a radius and a net distance.
    """
    row = KeepOut(uid=uid or new_uid(), shape=_sound(shape, reason), reason=reason, **columns)
    if shape.area == 0.0 and row.radius_m <= 0.0 and row.net_m <= 0.0:
        raise EditError(
            "The keep-out ({reason}) is a line or a point, so it keeps nothing out.",
            remedy="Give it a radius, or draw it as an area.",
            reason=Text(str(reason)),
        )
    return Edit(Text("Keep-out added: {reason}.", {"reason": row.name or Text(str(reason))}), lambda farm: [add(row)])


def reshape_keep_out(uid: str, shape: BaseGeometry) -> Edit:
    """Return the edit that gives a keep-out another shape."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        row = row_of(farm, KeepOut, uid)
        return [change(row, replace(row, shape=_sound(shape, row.reason)))]

    return Edit(Text("{name} reshaped.", {"name": Text("Keep-out")}), changes, names=uid)


def _sound(shape: BaseGeometry, reason: Reason) -> BaseGeometry:
    if not shapely.is_valid(shape):
        raise EditError(
            "The edge of the keep-out ({reason}) crosses itself.",
            remedy="Move a corner so that it goes round once.",
            reason=Text(str(reason)),
        )
    return shape


def add_way(kind: WayKind, line: shapely.LineString, *, uid: str = "", **columns: Any) -> Edit:
    """Return the edit that adds a way; `columns` are further columns of `Way`."""
    row = Way(uid=uid or new_uid(), kind=kind, line=line, **columns)
    return Edit(Text("{way} added.", {"way": row.name or Text(str(kind).capitalize())}), lambda farm: [add(row)])


def reshape_way(uid: str, line: shapely.LineString) -> Edit:
    """Return the edit that gives a way another line."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        row = row_of(farm, Way, uid)
        return [change(row, replace(row, line=line))]

    return Edit(Text("{name} reshaped.", {"name": Text("Way")}), changes, names=uid)


def add_flow_line(line: shapely.LineString, *, uid: str = "", **columns: Any) -> Edit:
    """Return the edit that adds a flow line; `columns` are further columns of `FlowLine`."""
    row = FlowLine(uid=uid or new_uid(), line=line, **columns)
    return Edit(Text("{line} added.", {"line": row.name or Text("Flow line")}), lambda farm: [add(row)])


def reshape_flow_line(uid: str, line: shapely.LineString) -> Edit:
    """Return the edit that gives a flow line another course."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        row = row_of(farm, FlowLine, uid)
        return [change(row, replace(row, line=line))]

    return Edit(Text("{name} reshaped.", {"name": Text("Flow line")}), changes, names=uid)


def add_place(kind: PlaceKind, point: shapely.Point, *, uid: str = "", **columns: Any) -> Edit:
    """Return the edit that adds a place; `columns` are further columns of `Place`."""
    row = Place(uid=uid or new_uid(), kind=kind, point=point, **columns)
    return Edit(Text("{place} added.", {"place": row.name or Text(str(kind).capitalize())}), lambda farm: [add(row)])


def move_place(uid: str, point: shapely.Point) -> Edit:
    """Return the edit that puts a place elsewhere."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        row = row_of(farm, Place, uid)
        return [change(row, replace(row, point=point))]

    return Edit(Text("{name} moved.", {"name": Text("Place")}), changes, names=uid)
