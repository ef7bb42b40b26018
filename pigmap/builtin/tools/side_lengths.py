"""Lengths of sides while an outline is drawn, and how much ground it holds: on a bare grid nothing else tells."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely

from pigmap.drawing.layer import Label, Side
from pigmap.qt.stage import Stage
from pigmap.text import Quantity

Point = tuple[float, float]

NO_SIDE_M = 0.5
"""A side that is shorter has no length written on it: the pointer is on the last corner. Own choice."""
LEAST_PX = 26.0
"""A side that is shorter on the screen has its length only while it is the last one. Own choice."""
AREA_PX = 110.0
"""Ground that is narrower on the screen has no area written on it. Own choice."""
FLAT, STEEP = 0.15, 0.5
"""Words stand above or below a side that is flatter than this share of its length, beside one that is this steep."""


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
    labels, last = [], len(ends) - 2
    for number, (begin, end) in enumerate(pairwise(ends)):
        length = float(np.hypot(end[0] - begin[0], end[1] - begin[1])) * scale
        if length >= NO_SIDE_M:
            words = stage.say(said, length=Quantity(length, "m", 0))
            labels.append(length_label(begin, end, words, ends, last=number >= last - (pointer is not None)))
    return tuple(labels)


def length_label(begin: Point, end: Point, words: str, corners: Sequence[Point], *, last: bool) -> Label:
    """Return the words of one side, beside it and outside the shape: a small paddock stays in sight below them.

    Parameters
    ----------
    begin, end
        Of the side [grid m].
    words
        Its length.
    corners
        Of the shape so far, the pointer's included [grid m].
    last
        Whether it is the side that was set last or is being drawn: it is told however short it is.
    """
    smallest = float("inf") if last else float(np.hypot(end[0] - begin[0], end[1] - begin[1])) / LEAST_PX
    x, y = (begin[0] + end[0]) / 2, (begin[1] + end[1]) / 2
    side = _outside(begin, end, corners)
    return Label(x, y, words, look="length", priority=2 if last else 1, smallest_scale=smallest, side=side)


def _outside(begin: Point, end: Point, corners: Sequence[Point]) -> Side:
    """Return the way from a side out of the shape that corners make so far."""
    way = np.subtract(end, begin) / max(np.hypot(end[0] - begin[0], end[1] - begin[1]), 1e-9)
    right, up = (way[1], -way[0]) if _goes_left(corners) else (-way[1], way[0])
    if abs(right) < FLAT:
        return "above" if up > 0 else "below"
    if abs(up) < STEEP:
        return "right" if right > 0 else "left"
    if up > 0:
        return "right above" if right > 0 else "left above"
    return "right below" if right > 0 else "left below"


def _goes_left(corners: Sequence[Point]) -> bool:
    """Whether corners go round anticlockwise, as far as they go yet."""
    x, y = np.array(corners).T - np.array(corners[0])[:, None]
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) >= 0.0


def area_so_far(points: list[Point], pointer: Point | None, stage: Stage) -> tuple[Label, ...]:
    """Return the area that corners and pointer enclose so far; none where their sides cross."""
    ends = [*points, *([pointer] if pointer is not None else [])]
    shape = shapely.Polygon(ends) if len(ends) >= 3 else shapely.Polygon()
    if not shape.is_valid or shape.area <= 0:
        return ()
    inside, scale = shape.representative_point(), stage.session.farm.projection.ground_per_grid
    area = stage.say("{area}", area=Quantity(shape.area * scale**2, "m²"))
    room = float(np.sqrt(shape.area)) / AREA_PX
    return (Label(inside.x, inside.y, area, look="plate", priority=1, smallest_scale=room),)
