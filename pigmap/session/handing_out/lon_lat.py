"""Shapes in longitude and latitude as the open formats want them: rings the right way round, digits to a millimetre."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.errors import UsageError
from pigmap.geometry.projection import from_projection
from pigmap.records import Projection
from pigmap.session.handing_out.table import Handed

DIGITS = 9
"""Digits of a degree: a ninth one is a tenth of a millimetre."""


def in_degrees(handed: Handed, projection: Projection, format_name: str) -> list[BaseGeometry | None]:
    """Return the shapes in longitude and latitude of WGS 84, outer rings against the clock, holes with it.

    Raises
    ------
    UsageError
        If the farm has no place on earth.
    """
    need_place(projection, format_name)
    there = [(at, shape) for at, shape in enumerate(handed.shapes) if shape is not None and not shape.is_empty]
    moved = from_projection([shape for _, shape in there], projection)
    found: list[BaseGeometry | None] = [None] * len(handed)
    for (at, _), shape in zip(there, moved, strict=True):
        found[at] = shapely.orient_polygons(shapely.transform(shape, lambda points: np.round(points, DIGITS)))
    return found


def need_place(projection: Projection, format_name: str) -> None:
    """Refuse a format that knows only longitude and latitude for a farm that has none.

    Raises
    ------
    UsageError
        In words.
    """
    if not projection.has_place:
        raise UsageError(
            "This farm has no place on the map of the world yet, and {format} knows only longitude and latitude.",
            remedy="Give the farm its place, under More, or end the name in .gpkg, .csv or .zip.",
            format=format_name,
        )
