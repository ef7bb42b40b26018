"""Nets by their length, kinds of one length together, and dealing them out to the kinds again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from pigmap.fence.fitted import Spare

Counts = tuple[int, ...]
"""How many nets of each length, in the order of the lengths."""


class Supply(NamedTuple):
    """Different lengths of nets from the longest to the shortest [mm], and how many there are of each."""

    lengths_mm: tuple[int, ...]
    nets: tuple[int, ...]

    @property
    def reach_mm(self) -> int:
        """How long all nets are together [mm]."""
        return self.length_mm(self.nets)

    def length_mm(self, counts: Counts) -> int:
        """Return how long some nets are together [mm]."""
        return sum(length * count for length, count in zip(self.lengths_mm, counts, strict=True))

    def holds(self, choices: Sequence[Counts]) -> bool:
        """Whether there are as many nets as all choices take together."""
        taken = [sum(each) for each in zip(*choices, strict=True)]
        return all(nets <= most for nets, most in zip(taken, self.nets, strict=bool(choices)))


def supply_of(spare: Sequence[Spare]) -> Supply:
    """Return some nets by their length; kinds of one length count together.

    Examples
    --------
    >>> from pigmap.records import NetKind
    >>> blue, red = NetKind(name="blue", bays_mm=(25_000,)), NetKind(name="red", bays_mm=(25_000,))
    >>> supply_of([Spare(blue, 2), Spare(red, 3)])
    Supply(lengths_mm=(25000,), nets=(5,))
    """
    lengths = sorted({each.kind.length_mm for each in spare if each.nets > 0}, reverse=True)
    nets = (sum(max(0, each.nets) for each in spare if each.kind.length_mm == length) for length in lengths)
    return Supply(tuple(lengths), tuple(nets))


def dealt(choices: Sequence[Counts], spare: Sequence[Spare]) -> list[tuple[Spare, ...]]:
    """Return the nets of each choice by kind: of several kinds of one length the first named is used up first."""
    left = [Spare(each.kind, max(0, each.nets)) for each in spare]
    lengths = supply_of(spare).lengths_mm
    return [
        tuple(net for length, count in zip(lengths, counts, strict=True) for net in _taken(length, count, left))
        for counts in choices
    ]


def _taken(length_mm: int, count: int, left: list[Spare]) -> Iterator[Spare]:
    """Yield so many nets of a length from those that are left, and take them away there."""
    for number, (kind, nets) in enumerate(left):
        taken = min(count, nets) if kind.length_mm == length_mm else 0
        if taken:
            left[number] = Spare(kind, nets - taken)
            count -= taken
            yield Spare(kind, taken)
