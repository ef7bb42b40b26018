"""Lengths of sides while an outline is drawn, and how much ground it holds: on a bare grid nothing else tells."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import shapely

from pigmap.drawing.layer import Label
from pigmap.qt.stage import Stage
from pigmap.text import Quantity

Point = tuple[float, float]

NO_SIDE_M = 0.5
"""A side that is shorter has no length written on it: the pointer is on the last corner. Own choice."""


def side_lengths(points: list[Point], pointer: Point | None, stage: Stage, said: str = "{length}") -> tuple[Label, ...]:
    """Return a length on each side from corner to corner and on to the pointer.

    Parameters
    ----------
    points
        Corners that are set [grid m].
    pointer
        Where the next one would be; None where none follows.
    stage
        Whose farm and words they are.
    said
        How a length is said: as it is, or as one that was paced.
    """
    scale = stage.session.farm.projection.ground_per_grid
    ends = [*points, *([pointer] if pointer is not None else [])]
    labels = []
    for (x, y), (to_x, to_y) in pairwise(ends):
        length = float(np.hypot(to_x - x, to_y - y)) * scale
        if length >= NO_SIDE_M:
            words = stage.say(said, length=Quantity(length, "m", 0))
            labels.append(Label((x + to_x) / 2, (y + to_y) / 2, words, look="length"))
    return tuple(labels)


def area_so_far(points: list[Point], pointer: Point | None, stage: Stage) -> tuple[Label, ...]:
    """Return the area that corners and pointer enclose so far; none where their sides cross."""
    ends = [*points, *([pointer] if pointer is not None else [])]
    shape = shapely.Polygon(ends) if len(ends) >= 3 else shapely.Polygon()
    if not shape.is_valid or shape.area <= 0:
        return ()
    inside, scale = shape.representative_point(), stage.session.farm.projection.ground_per_grid
    area = stage.say("{area}", area=Quantity(shape.area * scale**2, "m²"))
    return (Label(inside.x, inside.y, area, look="plate", priority=1),)
