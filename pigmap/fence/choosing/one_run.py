"""Nets for one run: the least length that closes it, then the fewest nets; exact, over all sums that can be reached."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from pigmap.fence.choosing.supply import Counts

Sums: TypeAlias = NDArray[np.int64]
"""Sums of nets that are shorter than the run, each once, (n, 1 + lengths): the sum, then the nets of each length."""


def counts_for_run(need_mm: int, lengths_mm: Sequence[int], stock: Sequence[int]) -> Counts | None:
    """Return how many nets of each length close a run with least left over, then fewest; None where they do not.

    Parameters
    ----------
    need_mm
        What the nets must reach together at least [mm].
    lengths_mm
        Different lengths of nets [mm].
    stock
        How many there are of each.

    Examples
    --------
    >>> counts_for_run(175_000, (50_000, 25_000), (4, 2))
    (3, 1)
    >>> counts_for_run(180_000, (50_000, 25_000), (4, 2))
    (4, 0)
    >>> counts_for_run(260_000, (50_000, 25_000), (4, 2)) is None
    True
    """
    if need_mm <= 0:
        return (0,) * len(lengths_mm)
    behind = np.append(np.cumsum((np.array(lengths_mm) * np.array(stock))[::-1])[::-1], 0).tolist()
    sums: Sums = np.zeros((1, 1 + len(lengths_mm)), dtype=np.int64)
    closed: list[tuple[int, int, Counts]] = []
    for kind, (length, most) in enumerate(zip(lengths_mm, stock, strict=True)):
        more = grown(sums, kind, length, np.minimum(most, -(-(need_mm - sums[:, 0]) // length)))
        closed += _nearest(more[more[:, 0] >= need_mm])
        # What the nets of all lengths to come cannot close is left out.
        short = (more[:, 0] < need_mm) & (more[:, 0] + behind[kind + 1] >= need_mm)
        sums = _each_once(more[short])
    return min(closed)[-1] if closed else None


def grown(sums: Sums, kind: int, length: int, most: NDArray[np.int64]) -> Sums:
    """Return the sums with none to `most` nets of a length added to each."""
    found = np.repeat(sums, most + 1, axis=0)
    added = np.arange(len(found)) - np.repeat(np.cumsum(most + 1) - (most + 1), most + 1)
    found[:, 0] += added * length
    found[:, 1 + kind] = added
    return found


def _nearest(closing: Sums) -> list[tuple[int, int, Counts]]:
    """Return the least sum that closes the run, with its nets and their counts: those of fewest nets."""
    if not len(closing):
        return []
    least = closing[closing[:, 0] == closing[:, 0].min()]
    nets = least[:, 1:].sum(axis=1)
    first = int(nets.argmin())
    return [(int(least[first, 0]), int(nets[first]), tuple(least[first, 1:].tolist()))]


def _each_once(sums: Sums) -> Sums:
    """Return every sum once, with the fewest nets: what can be added to it later does not depend on how it was made."""
    nets = sums[:, 1:].sum(axis=1)
    kept = sums[np.lexsort((nets, sums[:, 0]))]
    first = np.append(True, kept[1:, 0] != kept[:-1, 0])[: len(kept)]
    once: Sums = kept[first]
    return once
