"""Things of a farm as tables: fields, paddocks, keep-outs, ways and places."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TypeVar

from shapely.geometry.base import BaseGeometry

from pigmap.records import Farm, Field, Paddock, Record, Stay
from pigmap.records.lasting import lasting_on
from pigmap.records.side_nets import read
from pigmap.session.handing_out.order import in_order
from pigmap.session.handing_out.table import Column, Handed, column

R = TypeVar("R", bound=Record)


def fields_of(farm: Farm) -> Handed:
    """Return all fields, also those out of use, with what each is for."""
    rows = in_order(farm.fields.values())
    columns = (
        column("name", "text", [row.name for row in rows]),
        column("ground_cover", "text", [row.ground_cover for row in rows]),
        column("area_ha", "number", [_ha(farm, row.outline) for row in rows]),
        column("purposes", "text", [_purposes(farm, row) for row in rows]),
        column("forage", "text", [row.forage for row in rows]),
        column("soil", "text", [row.soil for row in rows]),
        column("retired_on", "day", [row.retired_on for row in rows]),
        column("note", "text", [row.note for row in rows]),
        _uids(rows),
    )
    return Handed("fields", columns, tuple(row.outline for row in rows), tuple(row.name for row in rows))


def paddocks_of(farm: Farm, on: date, today: date) -> Handed:
    """Return all paddocks, and which pigs are on each on a day."""
    rows = in_order(farm.paddocks.values())
    there = [_there(farm, row.uid, on, today) for row in rows]
    kinds = [farm.net_kinds.get(row.net_kind_uid or "") for row in rows]
    energizers = [farm.energizers.get(row.energizer_uid or "") for row in rows]
    scale = farm.projection.ground_per_grid
    columns = (
        column("name", "text", [row.name for row in rows]),
        column("field", "text", [_field(farm, row.field_uid) for row in rows]),
        column("area_ha", "number", [_ha(farm, row.outline) for row in rows]),
        column("edge_m", "number", [round(row.outline.length * scale, 2) for row in rows]),
        column("net_kind", "text", [kind.name if kind is not None else None for kind in kinds]),
        column("nets_long", "whole", [row.nets_long for row in rows]),
        column("nets_wide", "whole", [row.nets_wide for row in rows]),
        column("side_nets", "text", [_side_nets(farm, row) for row in rows]),
        column("energizer", "text", [each.name if each is not None else None for each in energizers]),
        column("own_switch", "truth", [row.own_switch for row in rows]),
        column("group_on_day", "text", [", ".join(_group(farm, stay.group_uid) for stay in each) for each in there]),
        column("day", "day", [on] * len(rows)),
        column("note", "text", [row.note for row in rows]),
        _uids(rows),
    )
    return Handed("paddocks", columns, tuple(row.outline for row in rows), tuple(row.name for row in rows))


def _side_nets(farm: Farm, paddock: Paddock) -> str | None:
    """Return the nets of each side where they are of more than one length: '1 x 50 m + 1 x 25 m; 1 x 50 m'."""
    kinds, sides = farm.net_kinds, read(paddock.side_nets)
    if not sides or any(uid not in kinds for side in sides for uid, _ in side):
        return None
    said = [" + ".join(f"{nets} x {kinds[uid].length_m:g} m" for uid, nets in side) for side in sides]
    return "; ".join(said[:2] if said[:2] == said[2:] else said)


def keep_outs_of(farm: Farm) -> Handed:
    """Return all keep-outs with their reasons and distances."""
    rows = in_order(farm.keep_outs.values())
    columns = (
        column("name", "text", [row.name for row in rows]),
        column("reason", "text", [row.reason for row in rows]),
        column("radius_m", "number", [row.radius_m for row in rows]),
        column("net_m", "number", [row.net_m for row in rows]),
        column("gear_m", "number", [row.gear_m for row in rows]),
        column("vehicle_m", "number", [row.vehicle_m for row in rows]),
        column("field", "text", [_field(farm, row.field_uid) for row in rows]),
        column("from_month_day", "text", [row.from_month_day for row in rows]),
        column("to_month_day", "text", [row.to_month_day for row in rows]),
        column("note", "text", [row.note for row in rows]),
        _uids(rows),
    )
    return Handed("keepouts", columns, tuple(row.shape for row in rows), tuple(row.name or row.reason for row in rows))


def ways_of(farm: Farm) -> Handed:
    """Return paths, hedges, lines and standing fences."""
    rows = in_order(farm.ways.values())
    energizers = [farm.energizers.get(row.energizer_uid or "") for row in rows]
    scale = farm.projection.ground_per_grid
    columns = (
        column("name", "text", [row.name for row in rows]),
        column("kind", "text", [row.kind for row in rows]),
        column("length_m", "number", [round(row.line.length * scale, 2) for row in rows]),
        column("voltage_kv", "number", [row.voltage_kv for row in rows]),
        column("clearance_m", "number", [row.clearance_m for row in rows]),
        column("height_m", "number", [row.height_m for row in rows]),
        column("communication", "truth", [row.communication for row in rows]),
        column("electric", "truth", [row.electric for row in rows]),
        column("energizer", "text", [each.name if each is not None else None for each in energizers]),
        column("minutes_to_clear", "number", [row.minutes_to_clear for row in rows]),
        column("note", "text", [row.note for row in rows]),
        _uids(rows),
    )
    return Handed("ways", columns, tuple(row.line for row in rows), tuple(row.name or row.kind for row in rows))


def places_of(farm: Farm) -> Handed:
    """Return gates, water points, trees and what else stays at a point."""
    rows = in_order(farm.places.values())
    columns = (
        column("name", "text", [row.name for row in rows]),
        column("kind", "text", [row.kind for row in rows]),
        column("radius_m", "number", [row.radius_m for row in rows]),
        column("note", "text", [row.note for row in rows]),
        _uids(rows),
    )
    return Handed("places", columns, tuple(row.point for row in rows), tuple(row.name or row.kind for row in rows))


def _uids(rows: Sequence[R]) -> Column:
    return column("uid", "text", [row.uid for row in rows])


def _ha(farm: Farm, shape: BaseGeometry) -> float:
    return round(shape.area * farm.projection.ground_per_grid**2 / 10_000, 4)


def _field(farm: Farm, uid: str | None) -> str | None:
    field = farm.fields.get(uid or "")
    return field.name if field is not None else None


def _group(farm: Farm, uid: str) -> str:
    group = farm.groups.get(uid)
    return group.name if group is not None else ""


def _there(farm: Farm, paddock_uid: str, on: date, today: date) -> list[Stay]:
    found = [each.stay for each in lasting_on(farm, today).values() if each.covers(on)]
    return [stay for stay in found if stay.paddock_uid == paddock_uid]


def _purposes(farm: Farm, field: Field) -> str:
    rows = [row for row in farm.purposes.values() if row.field_uid == field.uid]
    rows.sort(key=lambda row: (row.from_month_day, row.uid))
    return "; ".join(f"{row.from_month_day} to {row.to_month_day} {row.purpose}" for row in rows)
