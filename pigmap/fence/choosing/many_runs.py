"""Nets for several runs from one supply: least left over in all, then fewest nets; exact."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from pigmap.fence.choosing.covers import covers_of
from pigmap.fence.choosing.one_run import Sums, counts_for_run
from pigmap.fence.choosing.programme import Programme
from pigmap.fence.choosing.supply import Counts, Supply

FIRST_COVERS = 400
"""So many of the best choices of each run are looked at first. Own choice."""


def counts_for_runs(needs_mm: Sequence[int], supply: Supply) -> list[Counts] | None:
    """Return how many nets of each length close each run, None where they do not suffice.

    A net does not serve two runs. The same runs in another order are given the same nets.

    Parameters
    ----------
    needs_mm
        What the nets of each run must reach [mm].
    supply
        The nets for all of them.

    Examples
    --------
    >>> counts_for_runs([50_000] * 3 + [20_000], Supply((50_000, 25_000), (3, 2)))
    [(1, 0), (1, 0), (1, 0), (0, 1)]
    """
    order = sorted(range(len(needs_mm)), key=lambda run: needs_mm[run])
    chosen = _in_order([needs_mm[run] for run in order], supply)
    if chosen is None:
        return None
    found: list[Counts] = [()] * len(order)
    for run, counts in zip(order, chosen, strict=True):
        found[run] = counts
    return found


def _in_order(needs_mm: Sequence[int], supply: Supply) -> list[Counts] | None:
    if sum(needs_mm) > supply.reach_mm:
        return None
    alone = {need: counts_for_run(need, *supply) for need in set(needs_mm)}
    best = [counts for need in needs_mm if (counts := alone[need]) is not None]
    if len(best) < len(needs_mm):
        return None
    if supply.holds(best):
        return best  # each run has the best there is for it
    return _shared_out(needs_mm, supply)


def _shared_out(needs_mm: Sequence[int], supply: Supply) -> list[Counts] | None:
    """Return the best choice for runs that want the same nets.

    A long run has thousands of covers, of which the longer are hardly ever wanted. What is chosen among the shorter is
    best of all if it leaves no more over, beyond the least for each run, than any cover that was not looked at.
    """
    covers = {need: covers_of(need, *supply) for need in set(needs_mm)}
    least = sum(int(covers[need][0, 0]) for need in needs_mm)
    first = FIRST_COVERS
    while True:
        listed = {need: _first(rows, first) for need, rows in covers.items()}
        chosen = Programme(supply, [listed[need] for need in needs_mm]).solved()
        beyond = _beyond(covers, listed)
        if beyond == math.inf or (chosen is not None and sum(map(supply.length_mm, chosen)) - least < beyond):
            return chosen
        first *= 8


def _first(covers: Sums, count: int) -> Sums:
    """Return about so many of the first covers: those of one length are not parted."""
    if len(covers) <= count:
        return covers
    listed: Sums = covers[: int(np.searchsorted(covers[:, 0], covers[count - 1, 0], side="right"))]
    return listed


def _beyond(covers: Mapping[int, Sums], listed: Mapping[int, Sums]) -> float:
    """Return how much more than the least any cover leaves over that is not listed [mm]."""
    left = (
        int(rows[len(listed[need]), 0] - rows[0, 0]) for need, rows in covers.items() if len(listed[need]) < len(rows)
    )
    return min(left, default=math.inf)
