"""Nets for several runs as a small integer programme: how many nets of each length every run takes.

First the length of all nets together is made least, then, at that length, their number. What the nets of a run reach
is at least the least that any nets reach for it alone, so that little is left to search where lengths have a large
common measure. It is not always done soon: then what was found by then is returned, and that it may not be the best.
"""

from __future__ import annotations

import math
import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.fence.choosing.supply import Counts, Supply

Rows = list[tuple[NDArray[np.float64], float, float]]
"""What each column counts for in a row, and the least and the most of the row."""


@contextmanager
def _quiet() -> Iterator[None]:
    """Keep lines that the solver sometimes prints by itself from standard output."""
    try:
        kept = os.dup(1)
    except OSError:  # there is none
        yield
        return
    if sys.stdout is not None:
        sys.stdout.flush()
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 1)
        yield
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)


class Found(NamedTuple):
    """What was found in time."""

    counts: list[Counts] | None
    """How many nets of each length each run takes; None where nothing was found."""
    sure: bool
    """Whether there is nothing better; that there is nothing at all, where nothing was found."""


class ByRun:
    """Runs and the nets for them.

    Parameters
    ----------
    least_mm
        For each run the least length of nets that closes it, if it had all nets for itself.
    supply
        The nets.
    """

    def __init__(self, least_mm: Sequence[int], supply: Supply) -> None:
        self._supply, self._runs = supply, len(least_mm)
        self._kinds = len(supply.lengths_mm)
        self._measure = math.gcd(*supply.lengths_mm)
        self._lengths = np.tile(np.array(supply.lengths_mm, dtype=np.float64) / self._measure, self._runs)
        self._rows: Rows = []
        for run, least in enumerate(least_mm):
            of_run = np.zeros(len(self._lengths))
            of_run[run * self._kinds : (run + 1) * self._kinds] = 1.0
            self._rows.append((of_run * self._lengths, least / self._measure, math.inf))
        for kind, nets in enumerate(supply.nets):
            of_kind = np.zeros(len(self._lengths))
            of_kind[kind :: self._kinds] = 1.0
            self._rows.append((of_kind, 0.0, float(nets)))

    def solved(self, patience_s: float) -> Found:
        """Return the nets of each run: least length in all, then fewest nets.

        Parameters
        ----------
        patience_s
            The search for the least length, and that for the fewest nets, end after so long by the clock.
        """
        shortest, is_least, nothing = self._best(self._lengths, self._rows, patience_s)
        if shortest is None:
            return Found(None, nothing)
        whole = float(np.rint(self._lengths @ shortest))
        within = [*self._rows, (self._lengths, 0.0, whole)]
        fewest, is_fewest, _ = self._best(np.ones(len(self._lengths)), within, patience_s if is_least else 0.1)
        chosen = shortest if fewest is None else fewest
        counts = [tuple(each) for each in chosen.reshape(self._runs, self._kinds).tolist()]
        return Found(counts, is_least and is_fewest)

    def _best(
        self, cost: NDArray[np.float64], rows: Rows, patience_s: float
    ) -> tuple[NDArray[np.int64] | None, bool, bool]:
        """Return the choice of least cost, whether that is sure, and whether it is sure that there is none."""
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import csr_array

        table = csr_array(np.array([row for row, _, _ in rows]))
        most = np.tile(np.array(self._supply.nets, dtype=np.float64), self._runs)
        with _quiet():
            done = milp(
                cost,
                integrality=np.ones(len(cost)),
                bounds=Bounds(0, most),
                constraints=LinearConstraint(table, [low for _, low, _ in rows], [high for _, _, high in rows]),
                options={"mip_rel_gap": 0.0, "time_limit": patience_s},
            )
        chosen = None if done.x is None else np.rint(done.x).astype(np.int64)
        return chosen, done.status == 0, done.status == 2
