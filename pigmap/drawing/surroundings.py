"""Layers for what lies in and around the fields: keep-outs, ways, places, field edges."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.drawing.layer import Hatch, Layer, Marks, Outlines, Size, Stroke
from pigmap.drawing.nets import lines, outlines
from pigmap.drawing.rings import lines_of, rings_of
from pigmap.drawing.strokes import (
    FIELD_EDGE,
    FIELD_EDGE_PRINTED,
    FLOW_LINE,
    HEDGE,
    OVERHEAD,
    PATH,
    PERMANENT_FENCE,
    RIDE,
    STREAM,
    TRACK,
    setback,
)
from pigmap.drawing.tokens import CASING, DRY, MAP_INK, WATER
from pigmap.geometry.kept_out import in_force, kept_out
from pigmap.records import Farm, Field, KeepOut, PlaceKind, WayKind

_HATCH = Size(11.0, 2.1)
_HATCH_WIDE = Size(22.0, 4.2)
"""Wider than that of a keep-out: it is advice, and no keep-out."""
_HATCH_LINE = Size(1.1, 0.2)
USUAL_CLEARANCE_M = 9.0
"""Drawn beside an overhead line for which no distance is recorded: a hint, no rule. Own choice."""
_WAYS: Mapping[WayKind, tuple[Stroke, ...]] = {
    WayKind.PATH: (PATH,),
    WayKind.ROAD: (TRACK,),
    WayKind.TRACK: (TRACK,),
    WayKind.RIDE: (RIDE,),
    WayKind.HEDGE: (HEDGE,),
    WayKind.WATERCOURSE: (STREAM,),
    WayKind.DITCH: (STREAM,),
    WayKind.PERMANENT_FENCE: PERMANENT_FENCE,
}
_PLACES: Mapping[PlaceKind, Size] = {
    PlaceKind.GATE: Size(18.0, 3.3),
    PlaceKind.ENERGIZER: Size(26.0, 4.6),
    PlaceKind.TREE: Size(11.0, 2.0),
}
_PLACE = Size(22.0, 4.1)
PLACES_FROM_M = 1.6


def fields_on(farm: Farm, day: date) -> tuple[Field, ...]:
    """Return the fields in use on a day."""
    return tuple(field for field in farm.fields.values() if field.retired_on is None or field.retired_on > day)


def field_layers(farm: Farm, day: date, *, printed: bool) -> tuple[Layer, ...]:
    """Return the edges of the fields."""
    stroke = FIELD_EDGE_PRINTED if printed else FIELD_EDGE
    return (outlines((field.outline for field in fields_on(farm, day)), stroke),)


def keep_outs_on(farm: Farm, day: date) -> tuple[KeepOut, ...]:
    """Return the keep-outs in force on a day."""
    return tuple(each for each in farm.keep_outs.values() if in_force(each, day))


def keep_out_layers(farm: Farm, day: date) -> tuple[Layer, ...]:
    """Return keep-outs, hatched with their distance for nets, its edge dotted; water in the colour of water."""
    made: list[Layer] = []
    per_grid = farm.projection.ground_per_grid
    for water in (True, False):
        chosen = [each for each in keep_outs_on(farm, day) if each.reason.is_water is water]
        wide = [kept_out(each, each.net_m, per_grid) for each in chosen]
        colour = WATER if water else DRY
        made += _hatched([shape for shape in wide if not shape.is_empty], colour)
    return tuple(made)


def _hatched(shapes: Sequence[BaseGeometry], colour: str) -> list[Layer]:
    if not shapes:
        return []
    rings = rings_of([shapely.union_all(shapes)])
    fill = "#0E3A6624" if colour == WATER else ""
    hatch = Hatch(colour, _HATCH, _HATCH_LINE)
    return [Outlines(*rings, closed=True, strokes=(setback(colour),), fill=fill, hatch=hatch, holes=True)]


def kept_off_layers(shapes: Sequence[BaseGeometry]) -> tuple[Layer, ...]:
    """Return ground near water, wells and flow lines that pigs are usually kept off: hatched wide, its edge dotted."""
    if not shapes:
        return ()
    hatch = Hatch(WATER, _HATCH_WIDE, _HATCH_LINE, angle_deg=-45.0)
    rings = rings_of([shapely.union_all(shapes)])
    return (Outlines(*rings, closed=True, strokes=(setback(WATER),), hatch=hatch, holes=True),)


def way_layers(farm: Farm) -> tuple[Layer, ...]:
    """Return lines on the ground: paths dotted, flow lines broken, fences barred, overhead lines with bolts."""
    made: list[Layer] = []
    for kind, strokes in _WAYS.items():
        chosen = [way.line for way in farm.ways.values() if way.kind is kind]
        if chosen:
            made.append(lines(chosen, *strokes))
    if farm.flow_lines:
        made.append(lines([each.line for each in farm.flow_lines.values()], FLOW_LINE))
    return (*made, *_overhead_layers(farm))


def _overhead_layers(farm: Farm) -> tuple[Layer, ...]:
    chosen = [way for way in farm.ways.values() if way.kind is WayKind.OVERHEAD_LINE]
    if not chosen:
        return ()
    per_grid = farm.projection.ground_per_grid
    strips = [way.line.buffer((way.clearance_m or USUAL_CLEARANCE_M) / per_grid, cap_style="flat") for way in chosen]
    found = lines_of(way.line for way in chosen)
    apart, casing = Size(118.0, 20.0), Size(2.0, 0.35)
    return (
        *_hatched(strips, DRY),
        Outlines(*found, closed=False, strokes=(OVERHEAD,)),
        Marks(
            found.points, "pole", Size(16.0, 2.9), MAP_INK, CASING, casing, starts=found.starts, every=apart, first=0.25
        ),
        Marks(
            found.points, "bolt", Size(16.0, 2.9), MAP_INK, CASING, casing, starts=found.starts, every=apart, first=0.75
        ),
    )


def place_layers(farm: Farm) -> tuple[Layer, ...]:
    """Return what stands at a point: gates, water points, energizers and the like."""
    made: list[Layer] = []
    for kind in PlaceKind:
        places = [place for place in farm.places.values() if place.kind is kind]
        if not places:
            continue
        points = shapely.get_coordinates([place.point for place in places])[:, :2]
        turned = _directions(farm, points) if kind is PlaceKind.GATE else None
        size = _PLACES.get(kind, _PLACE)
        casing = Size(1.8, 0.35)
        made.append(
            Marks(points, str(kind), size, MAP_INK, CASING, casing, turned_deg=turned, smallest_scale=PLACES_FROM_M)
        )
    return tuple(made)


def _directions(farm: Farm, points: np.ndarray) -> np.ndarray:
    """Return the direction of the nearest field edge at each point [degrees], for gates that lie in it."""
    edges = [ring for field in farm.fields.values() for ring in shapely.get_parts(shapely.boundary(field.outline))]
    if not edges:
        return np.zeros(len(points))
    turned = []
    for point in map(shapely.Point, points.tolist()):
        ring = min(edges, key=lambda edge: float(edge.distance(point)))
        at = ring.project(point)
        before, after = ring.interpolate(max(at - 1.0, 0.0)), ring.interpolate(min(at + 1.0, ring.length))
        turned.append(np.degrees(np.arctan2(after.y - before.y, after.x - before.x)))
    return np.array(turned)
