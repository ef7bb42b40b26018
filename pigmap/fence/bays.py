"""Corners walked post by post: which fall on a post, what is left over at the end, and what closes in whole bays."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import product
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.fence.count import PLAY_MM
from pigmap.fence.laid import STAKE_MM, off_post
from pigmap.geometry.runs import Run
from pigmap.geometry.sides import Sides, flush_stretches

Point = tuple[float, float]
NEAR_POSTS = 2
"""So many posts to either side are tried for a corner that closes in whole bays. Own choice."""


class Corner(NamedTuple):
    """A corner of a run."""

    point: Point
    """Where it is [grid m]."""
    off_mm: int
    """How far the nearest post is from it along the run [mm]."""

    @property
    def own_stake(self) -> bool:
        """Whether it needs a stake of its own."""
        return self.off_mm > STAKE_MM


class WalkedRun(NamedTuple):
    """Nets set along a run from its begin."""

    bays: int
    """Whole bays that it takes."""
    over_mm: int
    """What it is longer than these [mm]."""
    bay_mm: int
    """The bay that begins there [mm]."""
    corners: tuple[Corner, ...]
    """Its corners, without its ends."""

    @property
    def whole(self) -> bool:
        """Whether it ends at a post, but for what two hands pull out of it or let go."""
        return self.over_mm <= STAKE_MM or self.short_mm <= STAKE_MM

    @property
    def short_mm(self) -> int:
        """How much of the next bay is slack if it is set too [mm]."""
        return self.bay_mm - self.over_mm


def posts_to(length_mm: float, bays_mm: Sequence[int]) -> list[int]:
    """Return how far along a run its posts stand, up to the first at or beyond a length and one more [mm].

    Examples
    --------
    >>> posts_to(7_000, (4_000, 3_000))
    [0, 4000, 7000, 11000]
    """
    nets = int(max(length_mm, 0) // sum(bays_mm)) + 2
    ends = [0, *np.cumsum(np.tile(np.asarray(bays_mm, dtype=np.int64), nets)).tolist()]
    return ends[: bisect_left(ends, length_mm) + 2]


def walked_run(run: Run, bays_mm: Sequence[int], ground_per_grid: float = 1.0) -> WalkedRun:
    """Return how nets of some bays stand along a run from its begin."""
    along = np.cumsum(np.hypot(*np.diff(run.line, axis=0).T)) * ground_per_grid * 1000
    posts = posts_to(run.length_mm, bays_mm)
    corners = tuple(
        Corner((float(x), float(y)), off_post(round(at), posts))
        for at, (x, y) in zip(along[:-1].tolist(), run.line[1:-1].tolist(), strict=True)
    )
    bays = bisect_right(posts, run.length_mm + PLAY_MM) - 1
    over = max(run.length_mm - posts[bays], 0)
    return WalkedRun(bays, over, posts[bays + 1] - posts[bays], corners)


def reversed_run(run: Run) -> Run:
    """Return a run from its other end."""
    return Run(run.line[::-1], run.length_mm, ring=run.ring)


def set_so_far_mm(points: Sequence[Point], closers: Sides, ground_per_grid: float = 1.0) -> tuple[int, ...]:
    """Return how much net stands from where it begins to each of some corners [mm].

    Nets begin at the first corner, or where sides that stand have closed the walk last.

    Examples
    --------
    >>> import shapely
    >>> from pigmap.geometry.sides import sides_of
    >>> set_so_far_mm([(5, 0), (0, 0), (0, 8), (3, 8)], sides_of([shapely.box(0, -5, 5, 0)]))
    (0, 0, 8000, 11000)
    """
    line = np.array(points, dtype=np.float64)
    if len(line) < 2:
        return (0,) * len(line)
    edges = np.stack([line[:-1], line[1:]], axis=1)
    lengths = np.hypot(*(edges[:, 1] - edges[:, 0]).T)
    apart = np.flatnonzero(lengths > 0.0)
    (west, south), (east, north) = line.min(axis=0).tolist(), line.max(axis=0).tolist()
    flush = flush_stretches(edges[apart], closers.edges[closers.near((west, south, east, north))])
    begins, corners = np.zeros(len(edges)), np.concatenate([[0.0], np.cumsum(lengths)])
    np.maximum.at(begins, apart[flush.side], corners[apart[flush.side]] + flush.end_m)
    stands = corners[1:] - np.maximum.accumulate(begins)
    return (0, *np.rint(stands * ground_per_grid * 1000).astype(np.int64).tolist())


def corner_in_whole_bays(
    before: Point, at: Point, after: Point, set_mm: int, bays_mm: Sequence[int], ground_per_grid: float = 1.0
) -> Point | None:
    """Return the place nearest to a corner from which the sides on both sides of it take whole bays.

    Parameters
    ----------
    before, at, after
        The corner before it, it, and where the run ends after it [grid m].
    set_mm
        How much net is set up to the corner before it [mm].
    bays_mm
        Bays of one net, repeated for the next [mm].

    Examples
    --------
    >>> corner_in_whole_bays((0.0, 0.0), (8.2, 0.3), (8.0, 6.5), 0, (2_000,))
    (7.98..., 0.5...)
    """
    (x, y), (end_x, end_y) = before, after
    per_m = ground_per_grid * 1000
    apart = float(np.hypot(end_x - x, end_y - y))
    to, on = (float(np.hypot(at[0] - px, at[1] - py)) for px, py in (before, after))
    posts = posts_to(set_mm + (to + on) * per_m + NEAR_POSTS * max(bays_mm), bays_mm)
    found: list[Point] = []
    for first, last in product(_near(posts, set_mm + to * per_m), _near(posts, set_mm + (to + on) * per_m)):
        one, other = (first - set_mm) / per_m, (last - first) / per_m
        if min(one, other, apart) > 0.0 and abs(one - other) <= apart <= one + other:
            found += _meet((x, y), one, (end_x, end_y), other, apart)
    return min(found, key=lambda each: np.hypot(each[0] - at[0], each[1] - at[1]), default=None)


def _near(posts: Sequence[int], at_mm: float) -> Sequence[int]:
    middle = bisect_left(posts, at_mm)
    return posts[max(0, middle - NEAR_POSTS) : middle + NEAR_POSTS]


def _meet(one: Point, one_m: float, other: Point, other_m: float, apart: float) -> list[Point]:
    """Return where two circles meet."""
    begin: NDArray[np.float64] = np.array(one)
    unit = (np.array(other) - begin) / apart
    along = (apart**2 + one_m**2 - other_m**2) / (2 * apart)
    off = float(np.sqrt(max(one_m**2 - along**2, 0.0)))
    across = np.array([-unit[1], unit[0]])
    both = (begin + unit * along + across * off, begin + unit * along - across * off)
    return [(float(x), float(y)) for x, y in both]
