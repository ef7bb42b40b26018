"""An outline that goes round what is kept out of it: a notch in its side, or a bay in to a tree that it enclosed."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

SIDES = 8
"""Corners of what stands for a circle: few enough to set, and all of the circle lies in it. Own choice."""
CRUDE_SHARE = 0.06
"""So much of its breadth ground of any shape is taken cruder, so that few corners go round it. Own choice."""
ROUND_SHARE = 0.95
"""What fills so much of the circle round it is one."""
BEYOND_M = 0.5
"""The side keeps so much more off, so that no rounding brings it too near [grid m]. Own choice."""
LEAST_SHARE = 0.4
"""An outline of which less is left does not go round it any more. Own choice."""
STRAIGHT_M = 0.05
"""Corners nearer to a straight side than this are none [grid m]."""


def gone_round(outline: shapely.Polygon, kept: Iterable[BaseGeometry]) -> shapely.Polygon | None:
    """Return an outline as it goes round ground that is kept out of it; None where too little of it would be left.

    Parameters
    ----------
    outline
        The ground [grid m].
    kept
        What it must not touch, with all distances [grid m].

    Examples
    --------
    >>> tree = shapely.Point(50, 25).buffer(5)
    >>> found = gone_round(shapely.box(0, 0, 50, 50), [tree])
    >>> found.intersects(tree), round(found.area)
    (False, 2450)
    """
    ground: BaseGeometry = outline
    for each in kept:
        for part in shapely.get_parts(each).tolist():
            if shapely.intersects(part, ground):
                ground = _largest(shapely.difference(ground, _cut(ground, part)))
    ground = shapely.simplify(ground, STRAIGHT_M)
    if not isinstance(ground, shapely.Polygon) or ground.is_empty or ground.area < LEAST_SHARE * outline.area:
        return None
    return shapely.orient_polygons(shapely.Polygon(ground.exterior))


def _cut(ground: BaseGeometry, part: BaseGeometry) -> BaseGeometry:
    """Return what is cut out for one thing: it, and the way out to the nearest side where it lies all inside."""
    shape = _few_corners(part)
    if not shapely.contains(ground, shape):
        return shape
    edge = shapely.boundary(ground)
    middle = shape.centroid
    out = edge.interpolate(edge.project(middle))
    way = np.array([out.x - middle.x, out.y - middle.y])
    far = way / max(float(np.hypot(*way)), 1e-9) * (float(np.hypot(*way)) + shape.length)
    return shapely.convex_hull(shapely.union_all([shape, shapely.transform(shape, lambda points: points + far)]))


def _few_corners(part: BaseGeometry) -> BaseGeometry:
    hull = shapely.convex_hull(part)
    circle = shapely.minimum_bounding_circle(part)
    if part.area < ROUND_SHARE * circle.area:
        play = CRUDE_SHARE * math.sqrt(hull.area)
        return shapely.buffer(shapely.simplify(hull, play), play + BEYOND_M, join_style="mitre")
    radius = (shapely.minimum_bounding_radius(part) + BEYOND_M) / math.cos(math.pi / SIDES)
    return shapely.Polygon(_ring(circle.centroid, float(radius)))


def _ring(middle: shapely.Point, radius: float) -> NDArray[np.float64]:
    turns = (np.arange(SIDES) + 0.5) * 2 * math.pi / SIDES
    return np.array([middle.x, middle.y]) + radius * np.stack([np.cos(turns), np.sin(turns)], axis=1)


def _largest(ground: BaseGeometry) -> BaseGeometry:
    parts = [part for part in shapely.get_parts(ground).tolist() if isinstance(part, shapely.Polygon)]
    return max(parts, key=lambda part: part.area, default=shapely.Polygon())
