"""Corners of the paddocks on a sheet: their letters, where they are, and what stands there."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.drawing.on_day import Shown
from pigmap.records.frozen import dataclass
from pigmap.text import Quantity, Text

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Without I and O, which are read as figures."""
SAME_M = 0.3
"""Corners nearer to each other than this are one [grid m]. Own choice."""


@dataclass(frozen=True, slots=True)
class Corner:
    """One corner with its letter."""

    letter: str
    x_m: float
    y_m: float
    now: Text
    """What is there: it stands, or how far it lies from a corner that stands by then, or a peg marks it."""


def ring_of(outline: shapely.Polygon) -> NDArray[np.float64]:
    """Return the corners of an outline clockwise from the one most to the north-west, (n, 2)."""
    ring = shapely.get_coordinates(outline.exterior)[:-1]
    ring = ring[::-1] if outline.exterior.is_ccw else ring
    first = int(np.argmin(ring[:, 0] - ring[:, 1]))
    return np.roll(ring, -first, axis=0)


def corners_of(running: Sequence[Shown], planned: Sequence[Shown], ground_per_grid: float) -> tuple[Corner, ...]:
    """Return the corners of paddocks in use and of the next ones, each once, as long as there are letters."""
    found: list[Corner] = []
    for shown in running:
        for x, y in _new(ring_of(shown.outline), found):
            found.append(Corner(LETTERS[len(found)], x, y, Text("stands")))
    for shown in planned:  # by its day what was planned before it stands
        ring, standing = ring_of(shown.outline), tuple(found)
        for x, y in _new(ring, found):
            now = _beside(x, y, ring, standing, ground_per_grid)
            found.append(Corner(LETTERS[len(found)], x, y, now))
    return tuple(found)


def _new(ring: NDArray[np.float64], found: list[Corner]) -> Iterator[tuple[float, float]]:
    for x, y in ring.tolist():
        if letter_at(x, y, found) == "" and len(found) < len(LETTERS):
            yield x, y


def letter_at(x: float, y: float, corners: Sequence[Corner]) -> str:
    """Return the letter of a corner at a spot, empty where there is none."""
    return next((each.letter for each in corners if math.hypot(each.x_m - x, each.y_m - y) < SAME_M), "")


def _beside(x: float, y: float, ring: NDArray[np.float64], standing: Sequence[Corner], ground_per_grid: float) -> Text:
    """Return how far a corner lies along its paddock's sides from one that stands, or that a peg marks it."""
    at = int(np.argmin(np.hypot(ring[:, 0] - x, ring[:, 1] - y)))
    for neighbour in (ring[at - 1], ring[(at + 1) % len(ring)]):
        letter = letter_at(float(neighbour[0]), float(neighbour[1]), standing)
        if letter:
            metres = math.hypot(neighbour[0] - x, neighbour[1] - y) * ground_per_grid
            digits = 0 if abs(metres - round(metres)) < 0.05 else 1
            return Text("{distance} from {letter}", {"distance": Quantity(metres, "m", digits), "letter": letter})
    return Text("peg")
