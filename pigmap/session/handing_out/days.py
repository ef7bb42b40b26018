"""Stays and daily checks as tables, each where it was."""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.records import Check, Farm, Group, Paddock
from pigmap.session.handing_out.table import Handed, column

SEEN_THERE, MIDDLE = "seen there", "middle of the paddock"
"""What the place of a daily check is."""


def stays_of(farm: Farm) -> Handed:
    """Return all stays on their ground, the earliest first: recorded, running and planned."""
    rows = sorted(farm.stays.values(), key=lambda row: (row.in_on, row.uid))
    groups = [_name(farm.groups.get(row.group_uid)) for row in rows]
    paddocks = [_name(farm.paddocks.get(row.paddock_uid)) for row in rows]
    scale = farm.projection.ground_per_grid**2
    columns = (
        column("group", "text", groups),
        column("paddock", "text", paddocks),
        column("field", "text", [_field(farm, row.paddock_uid) for row in rows]),
        column("in_on", "day", [row.in_on for row in rows]),
        column("out_on", "day", [row.out_on for row in rows]),
        column("state", "text", [row.state for row in rows]),
        column("area_ha", "number", [round(row.ground.area * scale / 10_000, 4) for row in rows]),
        column("why_planned", "text", [row.why_planned for row in rows]),
        column("uid", "text", [row.uid for row in rows]),
    )
    called = tuple(f"{group}, {paddock}" for group, paddock in zip(groups, paddocks, strict=True))
    return Handed("stays", columns, tuple(row.ground for row in rows), called, begins="in_on", ends="out_on")


def checks_of(farm: Farm) -> Handed:
    """Return all daily checks, the earliest first; one without a place lies in the middle of its paddock."""
    rows = sorted(farm.checks.values(), key=lambda row: (row.checked_on, row.uid))
    paddocks = [_name(farm.paddocks.get(row.paddock_uid)) for row in rows]
    shapes = tuple(_place(farm, row) for row in rows)
    columns = (
        column("paddock", "text", paddocks),
        column("field", "text", [_field(farm, row.paddock_uid) for row in rows]),
        column("group", "text", [_name(farm.groups.get(row.group_uid or "")) for row in rows]),
        column("checked_on", "day", [row.checked_on for row in rows]),
        column("all_well", "truth", [row.all_well for row in rows]),
        column("fence_kv", "number", [row.fence_kv for row in rows]),
        column("tester_lights", "whole", [row.tester_lights for row in rows]),
        column("pigs_seen", "whole", [row.pigs_seen for row in rows]),
        column("water_ok", "truth", [row.water_ok for row in rows]),
        column("soil_on_net", "truth", [row.soil_on_net for row in rows]),
        column("rooting_0_to_4", "whole", [row.rooting_score for row in rows]),
        column("damage", "text", [row.damage for row in rows]),
        column("seen_by", "text", [row.seen_by for row in rows]),
        column("note", "text", [row.note for row in rows]),
        column("place_is", "text", [_place_is(row, shape) for row, shape in zip(rows, shapes, strict=True)]),
        column("uid", "text", [row.uid for row in rows]),
    )
    called = tuple(f"{name}, {row.checked_on.isoformat()}" for name, row in zip(paddocks, rows, strict=True))
    return Handed("checks", columns, shapes, called, begins="checked_on")


def _place(farm: Farm, check: Check) -> BaseGeometry | None:
    if check.point is not None:
        return check.point
    paddock = farm.paddocks.get(check.paddock_uid)
    return shapely.point_on_surface(paddock.outline) if paddock is not None else None


def _place_is(check: Check, shape: BaseGeometry | None) -> str:
    if check.point is not None:
        return SEEN_THERE
    return MIDDLE if shape is not None else ""


def _name(row: Group | Paddock | None) -> str:
    return row.name if row is not None else ""


def _field(farm: Farm, paddock_uid: str) -> str | None:
    paddock = farm.paddocks.get(paddock_uid)
    field = farm.fields.get(paddock.field_uid or "") if paddock is not None else None
    return field.name if field is not None else None
