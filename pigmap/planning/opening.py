"""Where a side that the old and the new paddock both use is opened, so that pigs cross and none gets out."""

from __future__ import annotations

import math

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.fence.of_move import KindGround
from pigmap.geometry.runs import shared_runs
from pigmap.geometry.sides import FLUSH_M

LEAST_OPENING_M = 8.0
"""A side that both use for less is too short to open several posts wide [ground m]. Own choice."""


def shared_line(coming: KindGround, old: KindGround | None, per_grid: float) -> NDArray[np.float64] | None:
    """Return the longest side that both use, points from end to end, (n, 2) [grid m]; None where none can be opened."""
    # Where the two overlap, a side of both has the outside beyond it: opened, it would let the pigs out.
    if old is None or overlap(coming.outline, old.outline):
        return None
    runs = [run for run in shared_runs(coming.outline, [old.outline], per_grid) if run.length_m >= LEAST_OPENING_M]
    longest = max(runs, key=lambda run: run.length_mm, default=None)
    return longest.line if longest is not None else None


def opening_of(
    line: NDArray[np.float64], new: shapely.Polygon, old: shapely.Polygon
) -> tuple[tuple[float, float], bool]:
    """Return where to open a side that both use, and whether it is a corner of both.

    At a corner of both the sides that stay up still meet; at any other end the fence would be open to the outside.
    """
    corners = [shapely.points(shapely.get_coordinates(shape.exterior)) for shape in (new, old)]
    for x, y in line[[0, -1]].tolist():
        spot = shapely.Point(x, y)
        if all(shapely.dwithin(points, spot, 2 * FLUSH_M).any() for points in corners):
            return (x, y), True
    middle = shapely.LineString(line).interpolate(0.5, normalized=True)
    return (float(middle.x), float(middle.y)), False


def overlap(one: shapely.Polygon, other: shapely.Polygon) -> bool:
    """Whether two paddocks lie on the same ground in part."""
    return math.sqrt(one.intersection(other).area) > 1.0
