"""Every choice of nets that closes a run and from which no net can be left out."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from pigmap.errors import PlanError
from pigmap.fence.choosing.one_run import Sums, grown

MOST_ROWS = 3_000_000
"""More beginnings of choices than this are not written down: some hundred megabytes. Own choice."""


def covers_of(need_mm: int, lengths_mm: Sequence[int], stock: Sequence[int]) -> Sums:
    """Return every choice that closes a run and is not longer by a whole net, the best first.

    A choice that still closes the run without one of its nets is never better than without it.

    Parameters
    ----------
    need_mm, lengths_mm, stock
        As for `pigmap.fence.choosing.one_run.counts_for_run`, the lengths from the longest to the shortest.

    Returns
    -------
    covers
        Length [mm] and nets of each kind, (n, 1 + kinds): the shortest first, of these the one of
        fewest nets.

    Raises
    ------
    PlanError
        If they are millions.

    Examples
    --------
    >>> covers_of(110_000, (50_000, 25_000), (9, 9)).tolist()
    [[125000, 2, 1], [125000, 1, 3], [125000, 0, 5], [150000, 3, 0]]
    """
    begun: Sums = np.zeros((1, 1 + len(lengths_mm)), dtype=np.int64)
    if need_mm <= 0:
        return begun
    behind = np.append(np.cumsum((np.array(lengths_mm) * np.array(stock))[::-1])[::-1], 0).tolist()
    closed = [begun[:0]]
    for kind, (length, most) in enumerate(zip(lengths_mm, stock, strict=True)):
        if len(begun) > MOST_ROWS:
            raise PlanError(
                "There are millions of ways to share {kinds} kinds of nets out over runs this long.",
                remedy="Choose fewer kinds for them.",
                kinds=len(lengths_mm),
            )
        more = grown(begun, kind, length, np.minimum(most, -(-(need_mm - begun[:, 0]) // length)))
        # What the last net of the shortest kind closes was open without it, and so without any longer one.
        closed.append(more[more[:, 0] >= need_mm])
        begun = more[(more[:, 0] < need_mm) & (more[:, 0] + behind[kind + 1] >= need_mm)]
    found = np.concatenate(closed)
    covers: Sums = found[np.lexsort((found[:, 1:].sum(axis=1), found[:, 0]))]
    return covers
