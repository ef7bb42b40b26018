"""Nets for several runs from one supply: least left over in all, then fewest nets; exact."""

from __future__ import annotations

from collections.abc import Sequence

from pigmap.fence.choosing.one_run import counts_for_run
from pigmap.fence.choosing.programme import Programme
from pigmap.fence.choosing.supply import Counts, Supply


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
    return Programme(supply, needs_mm).solved()
