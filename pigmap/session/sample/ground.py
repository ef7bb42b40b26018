"""Rows of the sample farm's ground: fields and their purposes, keep-outs, ways, places and paddocks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import shapely

from pigmap.geometry.rectangle import Rectangle
from pigmap.records import (
    Field,
    GroundCover,
    KeepOut,
    Paddock,
    Place,
    PlaceKind,
    Purpose,
    Record,
    Use,
    Way,
    WayKind,
)
from pigmap.session.sample.ids import uid
from pigmap.session.sample.lattice import ALL_SQUARES, HALF_NET_M, Square
from pigmap.session.sample.layout import FIELDS, KEEP_OUTS, PLACES, WAYS, FieldPlan
from pigmap.session.sample.nets import BLUE, WHITE
from pigmap.session.sample.site import Site

CELL_M = 2.0
"""Side of a cell on the ground: 25 of them are a 50 m net."""


def fields(site: Site) -> list[Field]:
    """Return the four fields, their cells lined up with the rows of paddocks."""
    first = {square.field: square for square in reversed(ALL_SQUARES)}
    return [_field(site, plan, first[plan.name]) for plan in FIELDS]


def _field(site: Site, plan: FieldPlan, square: Square) -> Field:
    east, north = site.grid_point(*square.corner.at(square.along, square.across))
    return Field(
        uid=uid("field", plan.name),
        name=plan.name,
        ground_cover=plan.cover,
        outline=shapely.MultiPolygon([site.grid(plan.outline)]),
        soil=plan.soil,
        origin_x_m=east,
        origin_y_m=north,
        turned_deg=square.corner.turned_deg % 90,
        cell_m=CELL_M / site.projection.ground_per_grid,
    )


def purposes() -> Iterator[Purpose]:
    """Yield what each field is for in each part of the year."""
    for name, from_day, to_day, use, rest, rooting in (
        ("Long Field", "03-16", "11-30", Use.GRAZE_LIGHTLY, 85, 0.4),
        ("Long Field", "12-01", "03-15", Use.WINTER_GROUND, 120, 0.8),
        ("Barn Field", "01-01", "12-31", Use.TURN_OVER, 70, 0.9),
        ("Bank Wood", "01-01", "12-31", Use.CLEAR_SCRUB, 180, 0.5),
        ("Pond Field", "01-01", "12-31", Use.GRAZE_LIGHTLY, 105, 0.4),
    ):
        yield Purpose(
            uid=uid("purpose", name, from_day),
            field_uid=uid("field", name),
            from_month_day=from_day,
            to_month_day=to_day,
            purpose=use,
            rest_days_wanted=rest,
            rooting_wanted=rooting,
        )


def surroundings(site: Site) -> Iterator[Record]:
    """Yield keep-outs, ways and places."""
    for plan in KEEP_OUTS:
        yield KeepOut(
            uid=uid("keep-out", plan.name),
            name=plan.name,
            reason=plan.reason,
            shape=site.grid(plan.shape),
            radius_m=plan.radius_m,
            net_m=plan.net_m,
            gear_m=plan.gear_m,
            vehicle_m=plan.gear_m,
            field_uid=uid("field", plan.field),
        )
    for way in WAYS:
        yield _way(site, way.kind, way.name, way.line)
    for place in PLACES:
        point = site.grid(shapely.Point(*place.at))
        yield Place(uid=uid("place", place.name), kind=place.kind, name=place.name, point=point)


def _way(site: Site, kind: WayKind, name: str, line: shapely.LineString) -> Way:
    overhead = kind is WayKind.OVERHEAD_LINE
    fence = kind is WayKind.PERMANENT_FENCE
    energizer = next(plan.name for plan in PLACES if plan.kind is PlaceKind.ENERGIZER)
    return Way(
        uid=uid("way", name),
        kind=kind,
        name=name,
        line=site.grid(line),
        voltage_kv=11.0 if overhead else None,
        clearance_m=15.0 if overhead else None,
        electric=fence,
        energizer_uid=uid("place", energizer) if fence else None,
        minutes_to_clear=25.0 if kind is WayKind.RIDE else None,
        note="Invented. Ask the owner of a line for the distance to keep." if overhead else "",
    )


def outline(site: Site, square: Square) -> shapely.Polygon:
    """Return the ground of a paddock in grid metres, of whole nets to the millimetre."""
    corner = site.grid_point(*square.corner.at(square.along, square.across))
    nets = round(square.long_m / square.net_m), round(square.wide_m / square.net_m)
    rectangle = Rectangle.of_nets(
        corner, square.corner.turned_deg, nets, round(square.net_m * 1000), site.projection.ground_per_grid
    )
    return rectangle.outline


def paddocks(site: Site, squares: Iterable[Square]) -> Iterator[Paddock]:
    """Yield paddocks as records."""
    for square in squares:
        yield Paddock(
            uid=uid("paddock", square.name),
            name=square.name,
            field_uid=uid("field", square.field),
            outline=outline(site, square),
            net_kind_uid=WHITE if square.net_m == HALF_NET_M else BLUE,
            nets_long=round(square.long_m / square.net_m),
            nets_wide=round(square.wide_m / square.net_m),
        )


def is_wood(name: str) -> bool:
    """Whether a field of the sample is woodland."""
    return next(plan.cover for plan in FIELDS if plan.name == name) is GroundCover.WOODLAND
