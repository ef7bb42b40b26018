"""Lengths of sides while an outline is drawn, and how much ground it holds: on a bare grid nothing else tells."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import shapely

from pigmap.drawing.layer import Label, Labels
from pigmap.qt.stage import Stage
from pigmap.text import Quantity

Point = tuple[float, float]

NO_SIDE_M = 2.0
"""A side that is shorter has no length written on it: the pointer is on the last corner. Own choice."""


def side_lengths(points: list[Point], pointer: Point | None, stage: Stage) -> Labels:
    """Return a length on each side from corner to corner and on to the pointer, and the area they enclose so far.

    Parameters
    ----------
    points
        Corners that are set [grid m].
    pointer
        Where the next one would be; None where none follows.
    stage
        Whose farm and words they are.
    """
    scale = stage.session.farm.projection.ground_per_grid
    ends = [*points, *([pointer] if pointer is not None else [])]
    labels = []
    for (x, y), (to_x, to_y) in pairwise(ends):
        length = float(np.hypot(to_x - x, to_y - y)) * scale
        if length >= NO_SIDE_M:
            words = stage.say("{length}", length=Quantity(length, "m", 0))
            labels.append(Label((x + to_x) / 2, (y + to_y) / 2, words, look="length"))
    shape = shapely.Polygon(ends) if len(ends) >= 3 else shapely.Polygon()
    if shape.is_valid and shape.area > 0:
        inside = shape.representative_point()
        area = stage.say("{area}", area=Quantity(shape.area * scale**2, "m²"))
        labels.append(Label(inside.x, inside.y, area, look="plate", priority=1))
    return Labels(tuple(labels))
