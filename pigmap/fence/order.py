"""In which order nets stand along a run, and which way round, so that posts come as near to its corners as they can."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import accumulate, product
from typing import NamedTuple

from pigmap.fence.fitted import Spare
from pigmap.fence.laid import LaidRun, corners_of, laid, off_post, up_to
from pigmap.geometry.runs import Run
from pigmap.records import NetKind

MOST_STEPS = 2_000
"""Where there are more sets of nets to begin a run with than this, only two orders are compared. Own choice."""


class _Begun(NamedTuple):
    """The best way to begin a run with some nets: how far corners are off at most and together [mm], and the order."""

    most_mm: int
    together_mm: int
    nets: tuple[tuple[NetKind, bool], ...]


def lay_run(run: Run, nets: Sequence[Spare], ground_per_grid: float = 1.0) -> LaidRun:
    """Return the nets of a run on the map laid as by `lay_nets`."""
    return lay_nets(run.length_mm, corners_of(run, ground_per_grid), nets)


def lay_nets(length_mm: int, corners_mm: Sequence[int], nets: Sequence[Spare]) -> LaidRun:
    """Return the nets of a run laid so that the corner that is farthest from a post is as near to one as can be.

    All orders are compared, and both ways round of each net. Where nets are so many and so different that this takes
    too long, they are laid as given and the other way round, and the better is taken.

    Parameters
    ----------
    length_mm, corners_mm
        Of the run, and how far along it its corners are [mm].
    nets
        How many of each kind: those that the run takes, no net too many.

    Notes
    -----
    Where posts stand depends on the nets before only by their length. So the best way to begin with some nets follows
    from the best ways to begin with one net less.

    Examples
    --------
    >>> half, fifty = NetKind(name="25 m", bays_mm=(5_000,) * 5), NetKind(name="50 m", bays_mm=(10_000,) * 5)
    >>> found = lay_nets(100_000, [45_000], [Spare(fifty, 1), Spare(half, 2)])
    >>> [(net.kind.name, net.begin_mm) for net in found.nets], found.farthest_off_mm
    ([('25 m', 0), ('50 m', 25000), ('25 m', 75000)], 0)
    """
    own = [each for each in nets if each.nets > 0]
    if math.prod(each.nets + 1 for each in own) > MOST_STEPS:
        given = [(each.kind, False) for each in own for _ in range(each.nets)]
        both = (
            laid(length_mm, corners_mm, given),
            laid(length_mm, corners_mm, [(kind, True) for kind, _ in given[::-1]]),
        )
        return min(both, key=lambda each: each.farthest_off_mm)
    return laid(length_mm, corners_mm, _best_order(length_mm, corners_mm, own))


def _best_order(length_mm: int, corners_mm: Sequence[int], nets: Sequence[Spare]) -> tuple[tuple[NetKind, bool], ...]:
    begun: dict[tuple[int, ...], _Begun] = {(0,) * len(nets): _Begun(0, 0, ())}
    for counts in product(*(range(each.nets + 1) for each in nets)):
        ways = [*_ways(length_mm, corners_mm, nets, counts, begun)]
        if ways:
            begun[counts] = min(ways, key=lambda way: way[:2])
    return begun[tuple(each.nets for each in nets)].nets


def _ways(
    length_mm: int,
    corners_mm: Sequence[int],
    nets: Sequence[Spare],
    counts: tuple[int, ...],
    begun: dict[tuple[int, ...], _Begun],
) -> Iterator[_Begun]:
    """Yield the ways to begin with some nets: each of them may be the last, either way round."""
    for number in reversed(range(len(nets))):
        if not counts[number]:
            continue
        kind = nets[number].kind
        before = begun[(*counts[:number], counts[number] - 1, *counts[number + 1 :])]
        begin = sum(each.length_mm for each, _ in before.nets)
        for turned in (False,) if kind.bays_mm == kind.bays_mm[::-1] else (False, True):
            off = _off(begin, kind.bays_mm[::-1] if turned else kind.bays_mm, length_mm, corners_mm)
            yield _Begun(max(before.most_mm, *off, 0), before.together_mm + sum(off), (*before.nets, (kind, turned)))


def _off(begin_mm: int, bays_mm: Sequence[int], length_mm: int, corners_mm: Sequence[int]) -> list[int]:
    """Return how far the corners along one net are from its posts [mm]."""
    posts = up_to(length_mm, [*accumulate(bays_mm, initial=begin_mm)])
    return [off_post(at, posts) for at in corners_mm if begin_mm < at <= posts[-1]]
