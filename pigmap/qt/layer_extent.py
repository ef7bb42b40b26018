"""Which ground a layer reaches, so that pieces of the map skip what lies elsewhere."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.layer import Cells, Layer, Marks, Outlines
from pigmap.geometry.frame import CellFrame

Bounds = tuple[float, float, float, float]
"""West, south, east, north, in grid metres."""
EVERYWHERE: Bounds = (-math.inf, -math.inf, math.inf, math.inf)
NOWHERE: Bounds = (math.inf, math.inf, -math.inf, -math.inf)


def extent(layer: Layer) -> Bounds:
    """Return the ground of a layer's points; signs reach beyond it, words anywhere."""
    if isinstance(layer, Cells):
        return _of_cells(layer.frame)
    return _around(layer.points) if isinstance(layer, (Outlines, Marks)) else EVERYWHERE


@lru_cache(maxsize=64)
def _of_cells(frame: CellFrame) -> Bounds:
    corners = np.array([[0, 0], [frame.columns, 0], [frame.columns, frame.rows], [0, frame.rows]], dtype=np.float64)
    return _around(frame.to_metres(corners))


def _around(points: NDArray[np.float64]) -> Bounds:
    if not len(points):
        return NOWHERE
    (west, south), (east, north) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    return west, south, east, north


def meet(one: Bounds, other: Bounds) -> bool:
    """Whether two pieces of ground touch."""
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]
