"""The integer programme behind the nets of several runs: one choice a run, no more nets of a length than there are."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import groupby
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.fence.choosing.by_run import Found
from pigmap.fence.choosing.one_run import Sums
from pigmap.fence.choosing.supply import Counts, Supply


class _Alike(NamedTuple):
    """Runs that the same covers close: where their columns begin, how many they are, and the covers."""

    first: int
    runs: int
    covers: list[Counts]


@dataclass
class _Table:
    """Columns, each with the length and the nets it costs and how often it may be chosen; rows between two limits."""

    lengths: list[int] = field(default_factory=list)
    nets: list[int] = field(default_factory=list)
    most: list[float] = field(default_factory=list)
    rows: list[tuple[float, float]] = field(default_factory=list)
    entries: list[tuple[int, int, int]] = field(default_factory=list)
    """Row, column, value."""

    def add_row(self, least: float, most: float) -> int:
        """Add a row and return its number."""
        self.rows.append((least, most))
        return len(self.rows) - 1

    def add_column(self, length: int, nets: int, most: float, entries: Sequence[tuple[int, int]]) -> None:
        """Add a column with its value in some rows."""
        self.entries += [(row, len(self.most), value) for row, value in entries if value]
        self.lengths.append(length)
        self.nets.append(nets)
        self.most.append(most)

    def solved(self, cost: NDArray[np.float64], patience_s: float) -> tuple[NDArray[np.int64] | None, bool]:
        """Return how often each column is chosen at least cost, None where none keeps all rows; and if that is sure.

        It is not where the search was ended after a time.
        """
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import coo_array

        rows, columns, values = np.array(self.entries, dtype=np.int64).reshape(-1, 3).T
        shape = (len(self.rows), len(self.most))
        table = coo_array((values.astype(np.float64), (rows, columns)), shape=shape).tocsr()
        done = milp(
            cost,
            integrality=np.ones(len(cost)),
            bounds=Bounds(0, np.array(self.most)),
            constraints=LinearConstraint(table, *np.array(self.rows, dtype=np.float64).T),
            # What is left open otherwise may be a net. Little can be struck out beforehand, and where the solver tries
            # it sometimes prints a line of its own.
            options={"mip_rel_gap": 0.0, "presolve": False, "time_limit": patience_s},
        )
        chosen = None if done.x is None else np.rint(done.x).astype(np.int64)
        return chosen, done.status in (0, 2)


class Programme:
    """Runs and the nets that may close them.

    Parameters
    ----------
    supply
        The nets.
    covers
        For each run the choices that may close it, as of `pigmap.fence.choosing.covers.covers_of`; runs that have the
        same beside each other.

    Notes
    -----
    Runs that the same covers close share their columns: what is left over differs by a constant only. Lengths are
    counted in the largest measure that divides those of all nets, so that nothing is rounded. The first columns are
    how many nets of each length are taken in all: they follow from the others, but a solver that parts them first is
    done many times sooner.
    """

    def __init__(self, supply: Supply, covers: Sequence[Sums]) -> None:
        self.supply = supply
        self._measure = math.gcd(*supply.lengths_mm)
        self._table = _Table()
        for most in supply.nets:
            self._table.add_column(0, 0, most, [(self._table.add_row(0, 0), -1)])
        self._spread = 0
        self._alike: list[_Alike] = []
        for _, alike in groupby(covers, lambda rows: rows.tobytes()):
            runs = [*alike]
            self._add(len(runs), runs[0])

    def solved(self, patience_s: float) -> Found:
        """Return the nets of each run, None where there are none: least length in all, then fewest nets."""
        # A measure of length outweighs all nets that could be saved.
        cost = (1 + self._spread) * np.array(self._table.lengths) + np.array(self._table.nets)
        found, sure = self._table.solved(cost.astype(np.float64), patience_s)
        return Found(None if found is None else self._read(found), sure)

    def fewest_more(self, kind: int, nets: int) -> int:
        """Return how many more nets of one length close the runs than there are; the supply allows for them."""
        row = self._table.add_row(-math.inf, nets)
        self._table.entries.append((row, kind, 1))
        self._table.add_column(0, 0, math.inf, [(row, -1)])
        cost = np.zeros(len(self._table.most))
        cost[-1] = 1.0
        found, _ = self._table.solved(cost, math.inf)
        assert found is not None
        return int(found[-1])

    def _add(self, runs: int, covers: Sums) -> None:
        """Add some runs that the same covers close."""
        row = self._table.add_row(runs, runs)
        nets = covers[:, 1:].sum(axis=1)
        lengths = (covers[:, 0] - covers[0, 0]) // self._measure
        counts: list[Counts] = [tuple(each) for each in covers[:, 1:].tolist()]
        self._alike.append(_Alike(len(self._table.most), runs, counts))
        self._spread += runs * int(nets.max() - nets.min())
        for each, length, more in zip(counts, lengths.tolist(), (nets - nets.min()).tolist(), strict=True):
            self._table.add_column(length, more, runs, [*enumerate(each), (row, 1)])

    def _read(self, found: NDArray[np.int64]) -> list[Counts]:
        chosen: list[Counts] = []
        for each in self._alike:
            times = found[each.first : each.first + len(each.covers)].tolist()
            chosen += [counts for counts, often in zip(each.covers, times, strict=True) for _ in range(often)]
        return chosen
