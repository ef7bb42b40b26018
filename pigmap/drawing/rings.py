"""Shapes as flat arrays of corners, and back."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple, cast

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry


class Rings(NamedTuple):
    """Many lines or rings one after the other: corners (n, 2) and where each starts (k + 1,)."""

    points: NDArray[np.float64]
    starts: NDArray[np.int64]


NO_RINGS = Rings(np.empty((0, 2)), np.zeros(1, dtype=np.int64))


def joined(parts: Iterable[NDArray[np.float64]]) -> Rings:
    """Return arrays of corners, each (n, 2), as one."""
    kept = [np.asarray(part, dtype=np.float64)[:, :2] for part in parts if len(part)]
    if not kept:
        return NO_RINGS
    starts = np.concatenate([[0], np.cumsum([len(part) for part in kept])]).astype(np.int64)
    return Rings(np.concatenate(kept), starts)


def rings_of(shapes: Iterable[BaseGeometry]) -> Rings:
    """Return the outer and inner rings of areas; the last corner does not repeat the first."""
    parts = _parts(shapes)
    rings = shapely.get_rings(parts[shapely.get_type_id(parts) == shapely.GeometryType.POLYGON])
    points, ring = shapely.get_coordinates(rings, return_index=True)
    if not len(points):
        return NO_RINGS
    last = np.append(ring[1:] != ring[:-1], True)
    ends = np.cumsum(np.bincount(ring) - 1)
    return Rings(points[~last], np.concatenate([[0], ends]).astype(np.int64))


def lines_of(shapes: Iterable[BaseGeometry]) -> Rings:
    """Return the lines of shapes; areas give none."""
    parts = _parts(shapes)
    kinds = shapely.get_type_id(parts)
    lines = parts[(kinds == shapely.GeometryType.LINESTRING) | (kinds == shapely.GeometryType.LINEARRING)]
    points, line = shapely.get_coordinates(lines, return_index=True)
    if not len(points):
        return NO_RINGS
    return Rings(points, np.concatenate([[0], np.cumsum(np.bincount(line))]).astype(np.int64))


def _parts(shapes: Iterable[BaseGeometry]) -> NDArray[np.object_]:
    listed = list(shapes)
    packed = np.empty(len(listed), dtype=np.object_)
    packed[:] = listed
    return np.asarray(shapely.get_parts(packed))


def with_breaks(shape: BaseGeometry) -> NDArray[np.float64]:
    """Return the closed rings of an area, separated by rows of NaN, (n, 2)."""
    pieces: list[NDArray[np.float64]] = []
    for polygon in shapely.get_parts(shape):
        for ring in (polygon.exterior, *polygon.interiors):
            pieces += [shapely.get_coordinates(ring), np.full((1, 2), np.nan)]
    return np.concatenate(pieces[:-1]) if pieces else np.empty((0, 2))


def area_of(rings: Rings, *, holes: bool) -> BaseGeometry:
    """Return rings as one area; with `holes`, a ring inside another is a hole of it."""
    polygons = [
        shapely.Polygon(rings.points[start:end])
        for start, end in zip(rings.starts[:-1], rings.starts[1:], strict=True)
        if end - start >= 3
    ]
    if not holes:
        return cast(BaseGeometry, shapely.MultiPolygon(polygons))
    area: BaseGeometry = shapely.Polygon()
    for polygon in sorted(polygons, key=lambda each: -each.area):
        area = area.symmetric_difference(polygon)
    return area
