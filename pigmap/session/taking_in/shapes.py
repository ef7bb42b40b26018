"""Shapes of a file as the ground, lines and points of a farm: mended and told, or refused."""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.errors import OutlineError
from pigmap.geometry.outlines import vet_outline
from pigmap.records import Farm
from pigmap.session.intake import There, shape_of
from pigmap.session.taking_in.rows import Row
from pigmap.text import Quantity, Text, Value

SHORTEST_M = 0.1
"""A line shorter than this is left over from drawing [m]. Own choice."""


def rings_closed(shape: BaseGeometry | None) -> BaseGeometry | None:
    """Return closed lines as the areas they go round: those inside others are holes."""
    if shape is None or shape.is_empty or shapely.get_dimensions(shape) != 1:
        return shape
    lines = shapely.get_parts(shape)
    if not (shapely.is_closed(lines).all() and shapely.is_simple(lines).all()):
        return shape
    areas: BaseGeometry | None = shapely.build_area(shapely.multilinestrings(list(lines)))
    return shape if areas is None or areas.is_empty or not areas.is_valid else areas


def there_of(row: Row, called: str) -> BaseGeometry:
    """Return the shape of a row in the farm's metres; that heights are left out is told.

    Raises
    ------
    OutlineError
        If it has none, or none that can lie there.
    """
    there = shape_of(row.there)
    if there is None or there.is_empty:
        raise OutlineError("{name} has no shape.", remedy="Draw it on the map, or leave it out.", name=called)
    if row.incoming.shape is not None and shapely.has_z(row.incoming.shape):
        row.said.append(Text("The heights in {name} were left out.", {"name": called}))
    return there


def vetted(row: Row, called: str, there: BaseGeometry) -> shapely.MultiPolygon:
    """Return an area as ground; what was mended is told, with the area before and after."""
    found = vet_outline(called, there)
    row.said.extend(found.notes)
    if row.incoming.shape is not None and not shapely.is_valid(row.incoming.shape):
        row.mended = True
    return found.outline


def areas_told(before: There, after: BaseGeometry, farm: Farm) -> list[Text]:
    """Return the area before and after an edge that crossed itself was mended."""
    if not isinstance(before, BaseGeometry) or shapely.get_dimensions(before) != 2 or shapely.is_valid(before):
        return []
    scale = farm.projection.ground_per_grid**2
    values: dict[str, Value] = {
        "before": Quantity(abs(before.area) * scale, "m²"),
        "after": Quantity(after.area * scale, "m²"),
    }
    return [Text("Its area was {before} as it stood, and is {after}.", values)]


def lines_of(row: Row, called: str, *, edges: bool) -> list[shapely.LineString]:
    """Return the lines of a row, joined where their ends meet.

    Parameters
    ----------
    row, called
        Of what, and what it is called in words.
    edges
        Whether the edge of an area will do.

    Raises
    ------
    OutlineError
        If there is no line.
    """
    there = there_of(row, called)
    if shapely.get_dimensions(there) == 2 and edges:
        row.said.append(Text("{name} is an area; its edge is taken.", {"name": called}))
        row.mended = True
        there = shapely.boundary(there)
    parts = [part for part in shapely.get_parts(there) if isinstance(part, shapely.LineString)]
    if not parts:
        kind = Text("a point") if shapely.get_dimensions(there) == 0 else Text("an area")
        raise OutlineError(
            "{name} is {kind}, not a line.",
            remedy="Give the line along its middle; ground to stay off is taken in as a keep-out.",
            name=called,
            kind=kind,
        )
    lines = parts if len(parts) == 1 else _joined(row, called, parts)
    kept = [shapely.remove_repeated_points(line) for line in lines if line.length >= SHORTEST_M]
    if not kept:
        raise OutlineError(
            "{name} has no length.", remedy="Look at the line where it comes from: its ends may be one point.",
            name=called,
        )  # fmt: skip
    return kept


def _joined(row: Row, called: str, parts: list[shapely.LineString]) -> list[shapely.LineString]:
    merged = shapely.line_merge(shapely.multilinestrings(parts))
    lines = [part for part in shapely.get_parts(merged) if isinstance(part, shapely.LineString)]
    if len(lines) < len(parts):
        row.said.append(Text("The parts of {name} were joined where their ends meet.", {"name": called}))
        row.mended = True
    if len(lines) > 1:
        words = "{name} has {count} parts; each is taken by itself."
        row.said.append(Text(words, {"name": called, "count": len(lines)}))
    return lines


def points_of(row: Row, called: str) -> list[shapely.Point]:
    """Return the points of a row; of an area or a line the middle, which is told.

    Raises
    ------
    OutlineError
        If it has no shape.
    """
    there = there_of(row, called)
    if shapely.get_dimensions(there) > 0:
        row.said.append(Text("{name} is no point; the middle of it is taken.", {"name": called}))
        row.mended = True
        there = shapely.centroid(there)
    points = [part for part in shapely.get_parts(there) if isinstance(part, shapely.Point)]
    if len(points) > 1:
        words = "{name} has {count} points; each is taken by itself."
        row.said.append(Text(words, {"name": called, "count": len(points)}))
    return points
