"""How large labels are, in each way in which they can be shown: the same at every scale."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import NamedTuple

from pigmap.drawing.layer import Label
from pigmap.drawing.letters import breadth


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


class _Measures(NamedTuple):
    """Sizes of a look in device units."""

    size: float
    second: float
    pad: float
    sign: float
    weight: int
    second_weight: int


@cache
def _measures(look: str, paper: bool) -> _Measures:
    its = LOOKS[look]
    if paper:
        return _Measures(its.size_mm, its.second_mm, its.pad_mm, SIGN_MM, its.weight, its.second_weight)
    return _Measures(its.size_px, its.second_px, its.pad_px, SIGN_PX, its.weight, its.second_weight)


def box_of(label: Label, *, words: str, second: str, paper: bool) -> tuple[float, float]:
    """Return breadth and height of a label in device units."""
    size, second_size, pad, sign, weight, second_weight = _measures(label.look, paper)
    if not label.sign:
        sign = 0.0
    if not words:
        return sign + pad, sign + pad
    first = breadth(words, size, weight)
    other = breadth(second, second_size, second_weight) if second else 0.0
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


class Way(NamedTuple):
    """One way to show a label: with how much of its words, and where that lies from its own spot [device units]."""

    words: str
    """What is shown of its words; empty for its sign alone."""
    second: str
    left: float
    top: float
    wide: float
    high: float
    needs_room: bool
    """Whether it is shown only where the thing that it names is as broad."""


class Sized:
    """Labels by priority, each with its ways; they are sized as they are asked for, since that takes some time.

    Parameters
    ----------
    labels, paper
        The labels, and whether signs have their size on paper.
    """

    def __init__(self, labels: Sequence[Label], *, paper: bool) -> None:
        self.labels = sorted(labels, key=lambda label: -label.priority)
        self._paper = paper
        self._ways: list[tuple[Way, ...]] = []

    def some(self, first: int, count: int) -> list[tuple[Label, tuple[Way, ...]]]:
        """Return so many labels from a number on, most important first, with their ways from most to least."""
        last = min(first + count, len(self.labels))
        for label in self.labels[len(self._ways) : last]:
            self._ways.append(tuple(self._way(label, *shown) for shown in _shown(label)))
        return list(zip(self.labels[first:last], self._ways[first:last], strict=True))

    def _way(self, label: Label, words: str, second: str) -> Way:
        wide, high = box_of(label, words=words, second=second, paper=self._paper)
        left, top = _corner(label, wide, high, 1.6 if self._paper else 8.0)
        return Way(words, second, left, top, wide, high, bool(label.short or (label.sign and words)))


def _shown(label: Label) -> list[tuple[str, str]]:
    """Return what can be shown of a label, words and second line, from most to least."""
    ways = [(label.words, label.second), (label.words, "")] if label.second else [(label.words, "")]
    if label.once:
        return ways[:1]  # it may have room elsewhere; fewer words come as further labels of the same name
    if label.short:
        ways.append((label.short, ""))
    return [*ways, ("", "")] if label.sign else ways


def _corner(label: Label, wide: float, high: float, apart: float) -> tuple[float, float]:
    if label.side == "middle":
        return -wide / 2, -high / 2
    if label.side in ("right", "left"):
        return apart if label.side == "right" else -wide - apart, -high / 2
    if " " in label.side:  # a corner of the words lies at the point
        left, top = (0.0 if label.side.startswith("right") else -wide), label.side.endswith("above")
        return left, -high - apart / 2 if top else apart / 2
    return -wide / 2, {"above": -high - apart, "below": apart}.get(label.side, -high / 2)
