"""Which ground a layer reaches, so that pieces of the map skip what lies elsewhere."""

from __future__ import annotations

import math

import numpy as np

from pigmap.drawing.layer import Cells, Layer, Marks, Outlines

Bounds = tuple[float, float, float, float]
"""West, south, east, north, in grid metres."""
EVERYWHERE: Bounds = (-math.inf, -math.inf, math.inf, math.inf)
NOWHERE: Bounds = (math.inf, math.inf, -math.inf, -math.inf)


def extent(layer: Layer) -> Bounds:
    """Return the ground of a layer's points; signs reach beyond it, words anywhere."""
    if isinstance(layer, Cells):
        frame = layer.frame
        corners = np.array([[0, 0], [frame.columns, 0], [frame.columns, frame.rows], [0, frame.rows]], dtype=np.float64)
        points = frame.to_metres(corners)
    elif isinstance(layer, (Outlines, Marks)):
        points = layer.points
    else:
        return EVERYWHERE
    if not len(points):
        return NOWHERE
    (west, south), (east, north) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    return west, south, east, north


def meet(one: Bounds, other: Bounds) -> bool:
    """Whether two pieces of ground touch."""
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]
