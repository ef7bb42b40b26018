"""Every choice of nets that closes a run and from which no net can be left out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice

from pigmap.fence.choosing.supply import Counts

MOST_COVERS = 3_000
"""A run that more choices close is not written out choice by choice. Own choice."""


def covers_of(need_mm: int, lengths_mm: Sequence[int], stock: Sequence[int]) -> tuple[Counts, ...] | None:
    """Return every choice that closes a run and is not longer by a whole net; None where they are too many to list.

    A choice that still closes the run without one of its nets is never better than without it.

    Parameters
    ----------
    need_mm, lengths_mm, stock
        As for `pigmap.fence.choosing.one_run.counts_for_run`, the lengths from the longest to the shortest.

    Examples
    --------
    >>> covers_of(110_000, (50_000, 25_000), (9, 9))
    ((3, 0), (2, 1), (1, 3), (0, 5))
    """
    found = tuple(islice(_covers(need_mm, lengths_mm, stock), MOST_COVERS + 1))
    return found if len(found) <= MOST_COVERS else None


def _covers(need: int, lengths: Sequence[int], stock: Sequence[int]) -> Iterator[Counts]:
    """Yield the choices from the longest nets on."""
    if need <= 0:
        yield (0,) * len(lengths)
        return
    if not lengths:
        return
    length, rest = lengths[0], sum(each * count for each, count in zip(lengths[1:], stock[1:], strict=True))
    enough = -(-need // length)
    if enough <= stock[0]:
        # The lengths fall, so that no net of it can be left out, and none of a shorter one is wanted.
        yield (enough, *(0,) * (len(lengths) - 1))
    most, least = min(stock[0], enough - 1), max(0, -(-(need - rest) // length))
    for count in range(most, least - 1, -1):
        for more in _covers(need - count * length, lengths[1:], stock[1:]):
            yield (count, *more)
