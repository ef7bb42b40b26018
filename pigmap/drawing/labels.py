"""Which words find room on the map: those that would collide give way to more important ones."""

from __future__ import annotations

import math
from array import array
from collections import defaultdict
from collections.abc import Sequence
from functools import lru_cache
from itertools import islice
from time import perf_counter
from typing import NamedTuple

from pigmap.drawing.layer import Label
from pigmap.drawing.letters import breadth
from pigmap.drawing.view import PIXEL_MM, View


class LookSizes(NamedTuple):
    """Type and spaces of one look of a label, in pixels at scale 1 and in millimetres."""

    size_px: float
    size_mm: float
    second_px: float
    second_mm: float
    weight: int
    pad_px: float
    pad_mm: float
    second_weight: int = 400


LOOKS: dict[str, LookSizes] = {
    "name": LookSizes(14, 3.1, 13, 2.7, 600, 2, 0.4, 500),
    "quiet": LookSizes(12, 2.4, 12, 2.4, 500, 2, 0.4),
    "plate": LookSizes(13, 3.1, 12, 2.5, 700, 7, 1.4),
    "plan plate": LookSizes(13, 2.9, 12, 2.5, 600, 8, 1.4),
    "number": LookSizes(14, 2.9, 12, 2.6, 700, 4, 0.9),
    "plan number": LookSizes(14, 2.9, 12, 2.6, 700, 4, 0.9),
    "letter": LookSizes(12, 2.3, 12, 2.3, 700, 3, 0.7),
    "length": LookSizes(12, 2.2, 12, 2.2, 600, 4, 0.8),
    "clear": LookSizes(0, 0, 0, 0, 400, 26, 4.8),  # no words: a sign that words keep off
}
SIGN_PX, SIGN_MM = 20.0, 4.2
_LINE = 1.2
_AT_A_TIME = 20
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


def box_of(label: Label, view: View, *, words: str, second: str) -> tuple[float, float]:
    """Return breadth and height of a label in device units."""
    look = LOOKS[label.look]
    size, second_size = view.size(look.size_px, look.size_mm), view.size(look.second_px, look.second_mm)
    pad, sign = view.size(look.pad_px, look.pad_mm), view.size(SIGN_PX, SIGN_MM) if label.sign else 0.0
    if not words:
        return sign + pad, sign + pad
    first = breadth(words, size, look.weight)
    other = breadth(second, second_size, look.second_weight) if second else 0.0
    if stacked(label):
        wide, high = max(first, other), size * _LINE + (second_size * _LINE if other else 0.0)
    else:
        wide, high = first + (other + size * 0.4 if other else 0.0), size * _LINE
    gap = pad if sign else 0.0
    if label.look == "letter":
        wide = max(wide, high)
    return wide + sign + gap + 2 * pad, max(high, sign) + pad


def stacked(label: Label) -> bool:
    """Whether the second line lies under the first, not behind it."""
    return label.look != "name"


def declutter(labels: Sequence[Label], view: View) -> tuple[Set, ...]:
    """Return the labels that find room at the scale of a view, most important first.

    A label's second line goes first where its thing is too small for it or something is in the way, then its words
    where it has a sign; what still collides is left out. Where the view lies does not matter: a map that moves, or
    is painted piece by piece, keeps its words.
    """
    work = Decluttering(labels, view)
    work.go_on(math.inf)
    return tuple(work.found)


class Decluttering:
    """The search for room, in slices of time: thousands of labels take longer than a frame has.

    Parameters
    ----------
    labels, view
        As for `declutter`.
    """

    def __init__(self, labels: Sequence[Label], view: View) -> None:
        self.found: list[Set] = []
        """Those that found room so far."""
        self.edges = array("d")
        """Left, top, right and bottom of each of them, in device units from the corner of the farm's grid."""
        self._view = view
        self._left = iter(_by_priority(tuple(labels)))
        self._taken: defaultdict[tuple[int, int], list[_Box]] = defaultdict(list)
        self._once: set[str] = set()
        self._done = False

    def go_on(self, until: float) -> bool:
        """Search until a time of `time.perf_counter`; return whether all of it is done."""
        while not self._done:
            some = list(islice(self._left, _AT_A_TIME))
            for label in some:
                self._place(label)
            self._done = len(some) < _AT_A_TIME
            if perf_counter() >= until:
                break
        return self._done

    def _place(self, label: Label) -> None:
        view = self._view
        if view.pixel_m > label.smallest_scale or (label.once and label.once in self._once):
            return
        x, y = label.x_m / view.metres_per_unit, -label.y_m / view.metres_per_unit
        room = label.room_m / view.metres_per_unit
        for words, second in _ways(label):
            wide, high = _sized(label, words, second, view.paper)
            if wide > room and (label.short or (label.sign and words)):
                continue  # a bare sign is shown all the same
            left, top = _corner(label, wide, high, view)
            box = x + left, y + top, x + left + wide, y + top + high
            squares = _squares(box, _SQUARE * view.size(1.0, PIXEL_MM))
            if self._is_clear(box, squares):
                self.found.append(Set(label, left, top, wide, high, words, second))
                self.edges.extend(box)
                self._once.add(label.once)
                for square in squares:
                    self._taken[square].append(box)
                return

    def _is_clear(self, box: _Box, squares: Sequence[tuple[int, int]]) -> bool:
        left, top, right, bottom = box
        for square in squares:
            for other in self._taken.get(square, ()):
                if other[0] < right and other[2] > left and other[1] < bottom and other[3] > top:
                    return False
        return True


@lru_cache(maxsize=8)
def _by_priority(labels: tuple[Label, ...]) -> tuple[Label, ...]:
    return tuple(sorted(labels, key=lambda label: -label.priority))


@lru_cache(maxsize=32_768)
def _sized(label: Label, words: str, second: str, paper: bool) -> tuple[float, float]:
    """Return the size of a label; it is the same at every scale."""
    return box_of(label, View(0.0, 0.0, 1.0, 0.0, 0.0, paper), words=words, second=second)


def _squares(box: _Box, side: float) -> list[tuple[int, int]]:
    """Return the squares that a box touches: only what touches one of them can be in its way."""
    left, top, right, bottom = (math.floor(each / side) for each in box)
    return [(column, row) for column in range(left, right + 1) for row in range(top, bottom + 1)]


def _ways(label: Label) -> list[tuple[str, str]]:
    """Return what can be shown of a label, words and second line, from most to least."""
    ways = [(label.words, label.second), (label.words, "")] if label.second else [(label.words, "")]
    if label.once:
        return ways[:1]  # it may have room elsewhere; fewer words come as further labels of the same name
    if label.short:
        ways.append((label.short, ""))
    return [*ways, ("", "")] if label.sign else ways


def _corner(label: Label, wide: float, high: float, view: View) -> tuple[float, float]:
    apart = view.size(8, 1.6)
    if label.side in ("right", "left"):
        return apart if label.side == "right" else -wide - apart, -high / 2
    if " " in label.side:  # a corner of the words lies at the point
        left, top = (0.0 if label.side.startswith("right") else -wide), label.side.endswith("above")
        return left, -high - apart / 2 if top else apart / 2
    return -wide / 2, {"above": -high - apart, "below": apart}.get(label.side, -high / 2)
