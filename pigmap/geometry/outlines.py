"""Vetting an outline that comes in: mended where that is plain, refused in words where it is not."""

from __future__ import annotations

from typing import cast

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.errors import OutlineError
from pigmap.records.frozen import dataclass
from pigmap.text import Quantity, Text

LEAST_FIELD_M2 = 1.0
"""Less ground than this is no field [m²]. Own choice."""

LEAST_PART_M2 = 0.1
"""A part of an outline smaller than this is left over from drawing [m²]. Own choice."""

LEAST_WIDTH_M = 0.05
"""A part of an outline narrower than this is left over from drawing [m]. Own choice."""

CLOSED_M = 20.0
"""Ends of a walked line that are nearer to each other than this are meant to meet [m]. Own choice."""


@dataclass(frozen=True, slots=True, eq=False)
class VettedOutline:
    """An outline that is a piece of ground, and what was done to it or is out of the ordinary."""

    outline: shapely.MultiPolygon
    notes: tuple[Text, ...] = ()


def vet_outline(name: str, shape: BaseGeometry | None) -> VettedOutline:
    """Return an outline as ground that a field can be made of.

    Parameters
    ----------
    name
        What the outline is called in messages.
    shape
        As it came, in metres of the farm's projection; areas in a collection count, and so does a walked line
        whose ends meet.

    Raises
    ------
    OutlineError
        If there is no shape, no ground in it, a coordinate that is not a number, or degrees in place of metres.
    """
    if shape is None or shape.is_empty:
        raise OutlineError("{name} has no shape.", remedy="Draw it on the map, or leave it out.", name=name)
    notes: list[Text] = []
    shape = _flat(name, shape, notes)
    _need_metres(name, shape)
    areas = _areas(name, shape, notes)
    whole = _without_slivers(name, _mended(name, areas, notes), notes)
    if whole.area < LEAST_FIELD_M2:
        raise _no_ground(name, whole.area)
    _say_what_is_unusual(name, whole, notes)
    return VettedOutline(whole, tuple(notes))


def _no_ground(name: str, area_m2: float) -> OutlineError:
    return OutlineError(
        "{name} encloses {area} of ground; a field has at least {least}.",
        remedy="Look at the outline where it comes from: its corners may lie in one line.",
        name=name,
        area=Quantity(round(area_m2, 3), "m²"),
        least=Quantity(LEAST_FIELD_M2, "m²"),
    )


def _flat(name: str, shape: BaseGeometry, notes: list[Text]) -> BaseGeometry:
    if shapely.has_z(shape) or shapely.has_m(shape):
        notes.append(Text("The heights in {name} were left out.", {"name": name}))
        shape = shapely.force_2d(shape)
    if not np.isfinite(shapely.get_coordinates(shape)).all():
        raise OutlineError(
            "{name} has a corner that lies nowhere (a coordinate that is not a number).",
            remedy="Mend the outline where it comes from, or draw it on the map.",
            name=name,
        )
    return shape


def _need_metres(name: str, shape: BaseGeometry) -> None:
    """Refuse what can only be degrees: within the globe's, and less than a metre across if it were metres."""
    west, south, east, north = shape.bounds
    on_globe = west >= -180.0 and east <= 180.0 and south >= -90.0 and north <= 90.0
    if on_globe and 0.0 < max(east - west, north - south) < 1.0:
        raise OutlineError(
            "{name} lies at {east}, {north} and is {size} across: that looks like degrees, not metres.",
            remedy="Say which coordinate system it is in: longitude and latitude is EPSG:4326.",
            name=name,
            east=f"{west:.5f}",
            north=f"{south:.5f}",
            size=f"{max(east - west, north - south):.5f}",
        )


def _areas(name: str, shape: BaseGeometry, notes: list[Text]) -> BaseGeometry:
    parts = _parts(shape)
    areas = [part for part in parts if isinstance(part, shapely.Polygon)]
    if not areas:
        areas = [_closed(line) for line in parts if isinstance(line, shapely.LineString) and _meets(line)]
        if areas:
            notes.append(Text("{name} was a line; its ends were joined.", {"name": name}))
    elif len(areas) < len(parts):
        notes.append(Text("Only the areas of {name} were taken; it has lines or points too.", {"name": name}))
    if not areas:
        raise OutlineError(
            "{name} is a {kind}, not an area.",
            remedy="Give an area, or a line that ends where it began.",
            name=name,
            kind=_KINDS.get(shape.geom_type, Text("shape")),
        )
    return areas[0] if len(areas) == 1 else shapely.MultiPolygon(areas)


_KINDS = {
    "Point": Text("point"),
    "MultiPoint": Text("set of points"),
    "LineString": Text("line"),
    "MultiLineString": Text("set of lines"),
}


def _parts(shape: BaseGeometry) -> list[BaseGeometry]:
    """Return the single shapes, those in collections within collections too."""
    parts = list(shapely.get_parts(shape))
    if any(isinstance(part, shapely.GeometryCollection) for part in parts):
        return [single for part in parts for single in _parts(part)]
    return cast(list[BaseGeometry], parts)


def _meets(line: shapely.LineString) -> bool:
    points = shapely.get_coordinates(line)
    apart = float(np.hypot(*(points[-1] - points[0])))
    return len(np.unique(points, axis=0)) >= 3 and apart <= min(CLOSED_M, line.length / 4)


def _closed(line: shapely.LineString) -> shapely.Polygon:
    return shapely.Polygon(shapely.get_coordinates(line))


def _mended(name: str, areas: BaseGeometry, notes: list[Text]) -> shapely.MultiPolygon:
    if not shapely.is_valid(areas):
        notes.append(Text("The edge of {name} crossed itself; it was mended.", {"name": name}))
        areas = shapely.make_valid(areas, method="structure", keep_collapsed=False)
    parts = [part for part in _parts(areas) if isinstance(part, shapely.Polygon) and part.area > 0.0]
    whole = shapely.MultiPolygon(parts)
    return shapely.orient_polygons(shapely.remove_repeated_points(whole))


def _without_slivers(name: str, whole: shapely.MultiPolygon, notes: list[Text]) -> shapely.MultiPolygon:
    """Leave out parts that are only the play of drawing, unless nothing else is there."""
    kept = [part for part in whole.geoms if part.area >= LEAST_PART_M2 and _width(part) >= LEAST_WIDTH_M]
    left_out = len(whole.geoms) - len(kept)
    if not kept:
        raise _no_ground(name, whole.area)
    if left_out:
        notes.append(
            Text(
                "A sliver of {name} was left out.",
                {"name": name},
                plural="{count} slivers of {name} were left out.",
                count=left_out,
            )
        )
    return shapely.MultiPolygon(kept)


def _width(part: shapely.Polygon) -> float:
    """Width of the strip that has the same area and edge [m]."""
    return float(2.0 * part.area / part.length)


def _say_what_is_unusual(name: str, whole: shapely.MultiPolygon, notes: list[Text]) -> None:
    parts = len(whole.geoms)
    if parts > 1:
        notes.append(Text("{name} has {parts} parts; all belong to it.", {"name": name, "parts": parts}))
    holes = sum(len(part.interiors) for part in whole.geoms)
    if holes:
        notes.append(
            Text(
                "{name} has a hole, which stays outside it.",
                {"name": name},
                plural="{name} has {count} holes, which stay outside it.",
                count=holes,
            )
        )
