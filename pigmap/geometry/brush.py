"""The ground under a stroke of a round brush, and what of a shape is ground at all."""

from __future__ import annotations

from collections.abc import Sequence
from typing import cast

import shapely
from shapely.geometry.base import BaseGeometry

_FINER = 10
"""Bends of a stroke finer than this part of the brush's breadth are a shaking hand."""


def brushed(points: Sequence[tuple[float, float]], wide_m: float) -> shapely.Polygon | shapely.MultiPolygon:
    """Return the ground under a brush that was drawn along points, or set down at one of them.

    Examples
    --------
    >>> round(brushed([(0, 0), (100, 0)], 10.0).area)
    1078
    """
    along = shapely.LineString(points).simplify(wide_m / _FINER) if len(points) > 1 else shapely.Point(points[0])
    return cast("shapely.Polygon | shapely.MultiPolygon", along.buffer(wide_m / 2, quad_segs=6))


def areas(shape: BaseGeometry) -> shapely.MultiPolygon:
    """Return the parts of a shape that enclose ground, their outer rings anticlockwise; lines and points are left out.

    Examples
    --------
    >>> mixed = shapely.GeometryCollection([shapely.Point(0, 0), shapely.box(0, 0, 1, 1)])
    >>> len(areas(mixed).geoms)
    1
    """
    parts = shapely.get_parts(shapely.get_parts(shape)) if shape.geom_type == "GeometryCollection" else [shape]
    found = [part for whole in parts for part in shapely.get_parts(whole) if part.geom_type == "Polygon"]
    whole = shapely.MultiPolygon([part for part in found if part.area > 0.0])
    return shapely.orient_polygons(whole)
