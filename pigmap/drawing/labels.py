"""Which words find room on the map: those that would collide give way to more important ones."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.layer import Label
from pigmap.drawing.letters import breadth
from pigmap.drawing.view import View


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
    scale = view.pixel_m
    wanted = [label for label in labels if scale <= label.smallest_scale]
    wanted.sort(key=lambda label: -label.priority)
    spots = np.array([(label.x_m, -label.y_m) for label in wanted], dtype=np.float64).reshape(-1, 2)
    taken = np.empty((0, 4))
    found: list[Set] = []
    for label, spot in zip(wanted, spots / view.metres_per_unit, strict=True):
        if label.once and any(each.label.once == label.once for each in found):
            continue
        room = _room_for(label, view, taken - np.tile(spot, 2))
        if room is not None:
            found.append(room)
            box = np.array([room.left, room.top, room.left + room.width, room.top + room.height])
            taken = np.vstack([taken, box + np.tile(spot, 2)])
    return tuple(found)


def _room_for(label: Label, view: View, taken: NDArray[np.float64]) -> Set | None:
    room = label.room_m / view.metres_per_unit
    for words, second in _ways(label):
        wide, high = box_of(label, view, words=words, second=second)
        if wide > room and (label.short or (label.sign and words)):
            continue  # a bare sign is shown all the same
        left, top = _corner(label, wide, high, view)
        clear = (
            (taken[:, 0] >= left + wide) | (taken[:, 2] <= left) | (taken[:, 1] >= top + high) | (taken[:, 3] <= top)
        )
        if bool(clear.all()):
            return Set(label, left, top, wide, high, words, second)
    return None


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
    if label.side == "right":
        return apart, -high / 2
    if label.side == "right above":
        return 0.0, -high - apart / 2
    return -wide / 2, {"above": -high - apart, "below": apart}.get(label.side, -high / 2)
