"""Nets for several runs from one supply: least left over in all, then fewest nets; exact."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from pigmap.errors import PlanError
from pigmap.fence.choosing.by_run import ByRun, Found
from pigmap.fence.choosing.covers import covers_of
from pigmap.fence.choosing.one_run import Sums, counts_for_run
from pigmap.fence.choosing.programme import Programme
from pigmap.fence.choosing.supply import Counts, Supply

FIRST_COVERS = 400
"""So many of the best choices of each run are looked at first. Own choice."""
PATIENCE_S = 4.0
"""So long each step of the search goes on by the clock [s]; there are up to four. Own choice."""


class SharedOut(list[Counts]):
    """How many nets of each length each run takes."""

    sure: bool = True
    """Whether it is sure that no choice is better; else the search was ended after some seconds."""

    @classmethod
    def of(cls, counts: Sequence[Counts], *, sure: bool = True) -> SharedOut:
        """Return counts, and whether they are sure to be best."""
        found = cls(counts)
        found.sure = sure
        return found


def counts_for_runs(needs_mm: Sequence[int], supply: Supply, patience_s: float = PATIENCE_S) -> SharedOut | None:
    """Return how many nets of each length close each run, None where they do not suffice.

    A net does not serve two runs. The same runs in another order are given the same nets.

    Parameters
    ----------
    needs_mm
        What the nets of each run must reach [mm].
    supply
        The nets for all of them.
    patience_s
        How long each step of the search goes on by the clock.

    Raises
    ------
    PlanError
        If nothing was found in that time, though there may be something.

    Examples
    --------
    >>> counts_for_runs([50_000] * 3 + [20_000], Supply((50_000, 25_000), (3, 2)))
    [(1, 0), (1, 0), (1, 0), (0, 1)]
    """
    order = sorted(range(len(needs_mm)), key=lambda run: needs_mm[run])
    chosen = _in_order([needs_mm[run] for run in order], supply, patience_s)
    if chosen is None:
        return None
    found: list[Counts] = [()] * len(order)
    for run, counts in zip(order, chosen, strict=True):
        found[run] = counts
    return SharedOut.of(found, sure=chosen.sure)


def _in_order(needs_mm: Sequence[int], supply: Supply, patience_s: float) -> SharedOut | None:
    if sum(needs_mm) > supply.reach_mm:
        return None
    alone = {need: counts_for_run(need, *supply) for need in set(needs_mm)}
    best = [counts for need in needs_mm if (counts := alone[need]) is not None]
    if len(best) < len(needs_mm):
        return None
    if supply.holds(best):
        return SharedOut.of(best)  # each run has the best there is for it
    shared = _shared_out([supply.length_mm(counts) for counts in best], needs_mm, supply, patience_s)
    if shared.counts is not None:
        return SharedOut.of(shared.counts, sure=shared.sure)
    if not shared.sure:
        raise PlanError(
            "It takes too long to see whether {runs} stretches can be closed by the nets that are free.",
            remedy="Close some of them first, or leave more nets for them.",
            runs=len(needs_mm),
        )
    return None


def _shared_out(least_mm: Sequence[int], needs_mm: Sequence[int], supply: Supply, patience_s: float) -> Found:
    """Return the best choice for runs that want the same nets, by one road, else by another; both may take too long.

    Where no run can be closed in more than some hundred ways, looking at each way is the shorter road.
    """
    covers = _covers(needs_mm, supply)
    few = covers is not None and max(map(len, covers.values())) <= FIRST_COVERS
    first = _by_covers(covers, needs_mm, supply, patience_s) if few and covers is not None else None
    if first is not None and first.sure:
        return first
    found = ByRun(least_mm, supply).solved(patience_s)
    if found.sure or covers is None:
        return found
    other = first or _by_covers(covers, needs_mm, supply, patience_s)
    if other.sure or found.counts is None:
        return other
    return found if other.counts is None else Found(_less_of(found.counts, other.counts, supply), sure=False)


def _covers(needs_mm: Sequence[int], supply: Supply) -> Mapping[int, Sums] | None:
    """Return all ways to close each run; None where they are millions."""
    try:
        return {need: covers_of(need, *supply) for need in set(needs_mm)}
    except PlanError:
        return None


def _by_covers(covers: Mapping[int, Sums], needs_mm: Sequence[int], supply: Supply, patience_s: float) -> Found:
    """Return the best choice among the ways to close each run.

    A long run has thousands of covers, of which the longer are hardly ever wanted. What is chosen among the shorter is
    best of all if it leaves no more over, beyond the least for each run, than any cover that was not looked at.
    """
    least = sum(int(covers[need][0, 0]) for need in needs_mm)
    first = FIRST_COVERS
    while True:
        listed = {need: _first(rows, first) for need, rows in covers.items()}
        chosen = Programme(supply, [listed[need] for need in needs_mm]).solved(patience_s)
        beyond = _beyond(covers, listed)
        best = chosen.counts is not None and sum(map(supply.length_mm, chosen.counts)) - least < beyond
        if not chosen.sure or beyond == math.inf or best:
            return chosen
        first *= 8


def _less_of(one: list[Counts], other: list[Counts], supply: Supply) -> list[Counts]:
    def taken(counts: list[Counts]) -> tuple[int, int]:
        return sum(map(supply.length_mm, counts)), sum(map(sum, counts))

    return min(one, other, key=taken)


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
