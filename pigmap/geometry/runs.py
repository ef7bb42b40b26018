"""Runs: what of an outline nothing closes yet, and what of it something closes already."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.sides import FLUSH_M, Edges, Sides, edges_of, flush_stretches
from pigmap.records.frozen import dataclass

Span = tuple[float, float]


@dataclass(frozen=True, slots=True, eq=False)
class Run:
    """A chain of sides, or parts of sides, that belong together, round corners too.

    Parameters
    ----------
    line
        Its points from end to end, (n, 2) [grid m]; the first again as the last where it is a whole ring.
    length_mm
        Its length on the ground, rounded [mm].
    ring
        Whether it goes all the way round.
    """

    line: NDArray[np.float64]
    length_mm: int
    ring: bool = False

    @property
    def length_m(self) -> float:
        """Length on the ground [m]."""
        return self.length_mm / 1000


@dataclass(frozen=True, slots=True, eq=False)
class Closing:
    """An outline divided in two: what is open and wants nets, what is shared with sides that stand."""

    open: tuple[Run, ...]
    shared: tuple[Run, ...]


def open_runs(
    outline: shapely.Polygon, standing: Sides | Iterable[BaseGeometry], ground_per_grid: float = 1.0
) -> tuple[Run, ...]:
    """Return the runs of an outline that nothing closes yet.

    Parameters
    ----------
    outline
        The new paddock [grid m].
    standing
        The sides that stand: outlines of standing paddocks, lines of fences that are to count, or an index.
    ground_per_grid
        Ground metres in one grid metre.

    Examples
    --------
    >>> first, second = shapely.box(0, 0, 50, 50), shapely.box(50, 0, 100, 50)
    >>> [run.length_mm for run in open_runs(second, [first])]
    [150000]
    """
    return closing(outline, standing, ground_per_grid).open


def shared_runs(
    outline: shapely.Polygon, standing: Sides | Iterable[BaseGeometry], ground_per_grid: float = 1.0
) -> tuple[Run, ...]:
    """Return the runs of an outline along sides that stand; parameters as for `open_runs`."""
    return closing(outline, standing, ground_per_grid).shared


def closing(
    outline: shapely.Polygon, standing: Sides | Iterable[BaseGeometry], ground_per_grid: float = 1.0
) -> Closing:
    """Return the open and the shared runs of an outline together; parameters as for `open_runs`."""
    if isinstance(standing, Sides):
        west, south, east, north = outline.bounds
        near = standing.near((west - FLUSH_M, south - FLUSH_M, east + FLUSH_M, north + FLUSH_M))
        others = standing.edges[near]
    else:
        others = edges_of(standing)
    opened: list[Run] = []
    shared: list[Run] = []
    for ring in (outline.exterior, *outline.interiors):
        track = _Track(edges_of([ring]), ground_per_grid)
        taken = merged_spans(track.flush_with(others), track.length_m)
        opened += [track.run(span) for span in rest_of_ring(taken, track.length_m)]
        shared += [track.run(span) for span in _joined_round(taken, track.length_m)]
    return Closing(tuple(opened), tuple(shared))


class _Track:
    """One ring measured along itself from its first corner."""

    def __init__(self, edges: Edges, ground_per_grid: float) -> None:
        self.edges = edges
        self.ground_per_grid = ground_per_grid
        lengths = np.hypot(*(edges[:, 1] - edges[:, 0]).T)
        self.ends = np.concatenate([[0.0], np.cumsum(lengths)])
        self.length_m = float(self.ends[-1])

    def flush_with(self, others: Edges) -> list[Span]:
        found = flush_stretches(self.edges, others)
        first = self.ends[found.side]
        # A stretch up to a corner ends at the number the next side begins with, so that they join exactly.
        last = np.where(
            found.end_m >= (self.ends[found.side + 1] - first) - 1e-9, self.ends[found.side + 1], first + found.end_m
        )
        return sorted(zip((first + found.begin_m).tolist(), last.tolist(), strict=True))

    def run(self, span: Span) -> Run:
        begin, end = span
        corners = np.concatenate([self.ends[:-1], self.ends[:-1] + self.length_m])
        between = corners[(corners > begin + 1e-6) & (corners < end - 1e-6)]
        points = np.array([self._at(chainage) for chainage in (begin, *between, end)])
        length_mm = round((end - begin) * self.ground_per_grid * 1000)
        return Run(points, length_mm, ring=end - begin >= self.length_m - 1e-6)

    def _at(self, chainage: float) -> NDArray[np.float64]:
        chainage = chainage % self.length_m if chainage > self.length_m else chainage
        side = min(int(np.searchsorted(self.ends, chainage, side="right")) - 1, len(self.edges) - 1)
        share = (chainage - self.ends[side]) / (self.ends[side + 1] - self.ends[side])
        point: NDArray[np.float64] = self.edges[side, 0] + share * (self.edges[side, 1] - self.edges[side, 0])
        return point


def merged_spans(spans: list[Span], length: float) -> list[Span]:
    """Return spans joined where they touch or leave less than `FLUSH_M` between them."""
    merged: list[Span] = []
    for begin, end in spans:
        if merged and begin - merged[-1][1] <= FLUSH_M:
            merged[-1] = (merged[-1][0], max(end, merged[-1][1]))
        else:
            merged.append((begin, end))
    if merged and merged[0][0] + length - merged[-1][1] <= FLUSH_M:
        merged[0] = (0.0, merged[0][1])
        merged[-1] = (merged[-1][0], length)
    return merged


def rest_of_ring(taken: list[Span], length: float) -> list[Span]:
    """Return what is left of a ring, joined round its first corner."""
    if not taken:
        return [(0.0, length)]
    begins = [*(span[0] for span in taken[1:]), taken[0][0] + length]
    gaps = zip((span[1] for span in taken), begins, strict=True)
    return [(begin, end) for begin, end in gaps if end - begin > FLUSH_M]


def _joined_round(taken: list[Span], length: float) -> list[Span]:
    """Return the spans with the last and the first as one where they meet at the first corner."""
    if len(taken) > 1 and taken[0][0] <= 0.0 and taken[-1][1] >= length:
        return [*taken[1:-1], (taken[-1][0], taken[0][1] + length)]
    return taken
