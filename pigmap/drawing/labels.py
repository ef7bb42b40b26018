"""Which words find room on the map: those that would collide give way to more important ones."""

from __future__ import annotations

import math
from array import array
from collections import defaultdict
from collections.abc import Sequence
from time import perf_counter
from typing import NamedTuple

from pigmap.drawing.label_looks import Sized, Way
from pigmap.drawing.layer import Label
from pigmap.drawing.view import PIXEL_MM, View

_AT_A_TIME = 50
"""Labels between two looks at the clock."""
_SQUARE = 64.0
"""Side of the squares that taken room is sorted into, about the breadth of a name [px]."""

_Box = tuple[float, float, float, float]
"""Left, top, right and bottom in device units."""


class Set(NamedTuple):
    """A label that found room: its box in device units from its own spot, and how much of it is shown."""

    label: Label
    left: float
    top: float
    width: float
    height: float
    words: str
    """What is shown of its words; empty for its sign alone."""
    second: str


def declutter(labels: Sequence[Label], view: View) -> tuple[Set, ...]:
    """Return the labels that find room at the scale of a view, most important first.

    A label's second line goes first where its thing is too small for it or something is in the way, then its words
    where it has a sign; what still collides is left out. Where the view lies does not matter: a map that moves, or
    is painted piece by piece, keeps its words.
    """
    work = Decluttering(Sized(labels, paper=view.paper), view)
    work.go_on(math.inf)
    return tuple(work.found)


class Decluttering:
    """The search for room, in slices of time: thousands of labels take longer than a frame has.

    Parameters
    ----------
    labels
        The labels, sized for the medium of the view.
    view
        Its scale counts alone.
    """

    def __init__(self, labels: Sized, view: View) -> None:
        self.edges = array("d")
        """Left, top, right and bottom of each that found room, in device units from the corner of the farm's grid."""
        self._found: list[tuple[Label, Way]] = []
        self._labels = labels
        self._metres, self._pixel_m = view.metres_per_unit, view.pixel_m
        self._side = _SQUARE * view.size(1.0, PIXEL_MM)
        self._next = 0
        self._taken: defaultdict[tuple[int, int], list[_Box]] = defaultdict(list)
        self._once: set[str] = set()

    @property
    def found(self) -> list[Set]:
        """Those that found room so far."""
        return [self.at(index) for index in range(len(self._found))]

    def at(self, index: int) -> Set:
        """Return one of those that found room."""
        label, way = self._found[index]
        return Set(label, way.left, way.top, way.wide, way.high, way.words, way.second)

    def go_on(self, until: float) -> bool:
        """Search until a time of `time.perf_counter`; return whether all of it is done."""
        while some := self._labels.some(self._next, _AT_A_TIME):
            for label, ways in some:
                if self._pixel_m <= label.smallest_scale and not (label.once and label.once in self._once):
                    self._place(label, ways)
            self._next += len(some)
            if perf_counter() >= until:
                break
        return self._next >= len(self._labels.labels)

    def _place(self, label: Label, ways: tuple[Way, ...]) -> None:
        metres = self._metres
        x, y = label.x_m / metres, -label.y_m / metres
        for way in ways:
            _, _, from_x, from_y, wide, high, needs_room = way
            if needs_room and wide > label.room_m / metres:
                continue  # a bare sign is shown all the same
            left, top = x + from_x, y + from_y
            box = left, top, left + wide, top + high
            if self._take(box):
                self._found.append((label, way))
                self.edges.extend(box)
                self._once.add(label.once)
                return

    def _take(self, box: _Box) -> bool:
        """Take the room of a box if it is free: only what touches one of its squares can be in its way."""
        left, top, right, bottom = box
        taken, side = self._taken, self._side
        first, last = int(left // side), int(right // side)
        rows = range(int(top // side), int(bottom // side) + 1)
        squares = [(column, row) for column in range(first, last + 1) for row in rows]
        for square in squares:
            if square in taken:
                for to_left, over, to_right, under in taken[square]:
                    if to_left < right and to_right > left and over < bottom and under > top:
                        return False
        for square in squares:
            taken[square].append(box)
        return True
