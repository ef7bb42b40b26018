"""The plates at the sides of a sketch: how long each is, and the colour of its tape."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import shapely

from pigmap.builtin.reports.move_card_frame import WORDS_MM, SketchFrame
from pigmap.drawing.letters import CAP_HEIGHT, breadth
from pigmap.drawing.page import Box, Item, Words
from pigmap.drawing.tokens import CASING, MAP_INK, MAP_PLAN
from pigmap.planning.moves_of_day import Move
from pigmap.records import Farm, Paddock
from pigmap.text import Quantity, Text

TAPES = {
    "blue": "#2A6FD6", "white": "#FFFFFF", "red": "#C9302C", "yellow": "#F2C500", "green": "#2E8B3D",
    "orange": "#EE7F1A", "black": "#121A17", "grey": "#8A928D", "gray": "#8A928D", "brown": "#7A4B20",
    "pink": "#EF8FB4", "purple": "#7A3E9D",
}  # fmt: skip
"""What colours of tape look like on paper; others are told of in words only."""
_STRAIGHT_M = 0.3
"""Corners that lie nearer to a straight side are none [grid m]."""
_LARGE_MM = 16.0
"""From so far across plates may stand on the sides of a paddock."""
_SHORTEST_MM = 6.0
"""Sides of a sketch that are shorter carry no length."""


def sides(farm: Farm, move: Move, frame: SketchFrame) -> Iterator[Item]:
    """Yield for each side that is set or taken down its length and a swatch of the tape's colour."""
    yield from _sides_of(farm, move, move.new_outline, move.new, MAP_PLAN, frame)
    if move.old_outline is not None:
        yield from _sides_of(farm, move, move.old_outline, move.old, MAP_INK, frame)


def _sides_of(
    farm: Farm, move: Move, outline: shapely.Polygon, paddock: Paddock | None, colour: str, frame: SketchFrame
) -> Iterator[Item]:
    kind = farm.net_kinds.get(paddock.net_kind_uid or "") if paddock is not None else None
    shared = shapely.Polygon()
    if move.shared_line is not None:
        shared = shapely.LineString(move.shared_line).buffer(_STRAIGHT_M, cap_style="flat")
    shape = frame.shape(outline)
    middle = shapely.get_coordinates(shape.centroid)[0]
    # On a small paddock plates stand beside its sides, so that they do not cover it.
    beside = 0.55 if shapely.maximum_inscribed_circle(shape).length > _LARGE_MM / 2 else 1.05
    for side in pairwise(shapely.get_coordinates(shapely.simplify(outline, _STRAIGHT_M).exterior)):
        begin, end = _not_shared(side, shared)
        ends = frame.on_card(np.array([begin, end]))
        if np.hypot(*(ends[1] - ends[0])) < _SHORTEST_MM:
            continue
        metres = float(np.hypot(*(end - begin))) * farm.projection.ground_per_grid
        digits = 0 if abs(metres - round(metres)) < 0.05 else 1
        words = frame.say(Text("{length}", {"length": Quantity(metres, "m", digits)}))
        swatch = TAPES.get(kind.tape.casefold().strip(), "") if kind is not None else ""
        yield from _side_plate(ends.mean(axis=0), middle, words, swatch, colour, frame, beside)


def _not_shared(side: tuple[np.ndarray, np.ndarray], shared: shapely.Polygon) -> tuple[np.ndarray, np.ndarray]:
    """Return the ends of the longest part of a side that is not shared; twice the same where all of it is."""
    parts = shapely.get_parts(shapely.LineString(side).difference(shared)).tolist()
    longest = max(parts, key=lambda part: part.length, default=None)
    if longest is None or longest.is_empty:
        return side[0], side[0]
    if longest.length > shapely.LineString(side).length - 2 * _STRAIGHT_M:  # it only ends at a shared one
        return side
    points = shapely.get_coordinates(longest)
    return points[0], points[-1]


def _side_plate(
    at: np.ndarray, middle: np.ndarray, words: str, swatch: str, colour: str, frame: SketchFrame, beside: float
) -> Iterator[Item]:
    """Yield a plate at the middle of a side, or a little further out; nothing where there is no room for it."""
    wide, high = breadth(words, WORDS_MM, 600) + (5.2 if swatch else 2.0), 4.0
    out = (at - middle) / max(float(np.hypot(*(at - middle))), 1e-6)
    for further in (0.0, 1.5, 3.0):
        x, y = (at + out * (wide / 2 * abs(out[0]) * beside + further)).tolist()
        area = shapely.box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
        if frame.is_free(area):
            break
    else:
        return
    frame.taken.append(area)
    left = x - wide / 2
    yield Box(left, y - high / 2, wide, high, 0.6, 0.22, MAP_INK, CASING)
    if swatch:
        yield Box(left + 1.0, y - 1.15, 2.3, 2.3, 0.3, 0.18, MAP_INK, swatch)
    yield Words(left + (4.2 if swatch else 1.0), y + WORDS_MM * CAP_HEIGHT / 2, words, WORDS_MM, 600, colour)
