"""Corners walked post by post: which fall on a post, what is left over at the end, and what closes in whole bays."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from functools import lru_cache
from itertools import accumulate
from typing import NamedTuple

import numpy as np

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
    ends = _ends(tuple(bays_mm), int(max(length_mm, 0) // sum(bays_mm)) + 2)
    return ends[: bisect_left(ends, length_mm) + 2]


@lru_cache(maxsize=32)
def _ends(bays_mm: tuple[int, ...], nets: int) -> list[int]:
    """Return how far along so many nets each bay ends, from their begin on; never changed, since it is kept."""
    return [0, *accumulate(bays_mm * nets)]


def posts_on(
    begin: Point, end: Point, set_mm: int, bays_mm: Sequence[int], ground_per_grid: float = 1.0
) -> list[Point]:
    """Return where posts stand along a side to whose begin so much net is set already, its ends left out [grid m].

    Examples
    --------
    >>> posts_on((0.0, 0.0), (5.0, 0.0), 3_000, (2_000,))
    [(1.0, 0.0), (3.0, 0.0)]
    """
    (x, y), (to_x, to_y) = begin, end
    length_mm = float(np.hypot(to_x - x, to_y - y)) * ground_per_grid * 1000
    every = (post - set_mm for post in posts_to(set_mm + length_mm, bays_mm))
    shares = [each / length_mm for each in every if PLAY_MM < each < length_mm - PLAY_MM]
    return [(x + (to_x - x) * share, y + (to_y - y) * share) for share in shares]


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


def set_so_far_mm(
    points: Sequence[Point], closers: Sides, ground_per_grid: float = 1.0, *, begun_mm: int = 0
) -> tuple[int, ...]:
    """Return how much net stands from where it begins to each of some corners [mm].

    Nets begin at the first corner, or where sides that stand have closed the walk last; to the first corner some may
    be set already.

    Examples
    --------
    >>> import shapely
    >>> from pigmap.geometry.sides import sides_of
    >>> set_so_far_mm([(5, 0), (0, 0), (0, 8), (3, 8)], sides_of([shapely.box(0, -5, 5, 0)]))
    (0, 0, 8000, 11000)
    """
    line = np.array(points, dtype=np.float64)
    if len(line) < 2:
        return (begun_mm,) * len(line)
    edges = np.stack([line[:-1], line[1:]], axis=1)
    lengths = np.hypot(*(edges[:, 1] - edges[:, 0]).T)
    apart = np.flatnonzero(lengths > 0.0)
    (west, south), (east, north) = line.min(axis=0).tolist(), line.max(axis=0).tolist()
    flush = flush_stretches(edges[apart], closers.edges[closers.near((west, south, east, north))])
    begins = np.full(len(edges), -begun_mm / 1000 / ground_per_grid)
    corners = np.concatenate([[0.0], np.cumsum(lengths)])
    np.maximum.at(begins, apart[flush.side], corners[apart[flush.side]] + flush.end_m)
    stands = corners[1:] - np.maximum.accumulate(begins)
    return (begun_mm, *np.rint(stands * ground_per_grid * 1000).astype(np.int64).tolist())


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
    per_m = ground_per_grid * 1000
    apart, to, on = math.dist(before, after), math.dist(before, at), math.dist(at, after)
    if apart <= 0.0:
        return None
    posts = posts_to(set_mm + (to + on) * per_m + NEAR_POSTS * max(bays_mm), bays_mm)
    found: list[Point] = []
    for first in _near(posts, set_mm + to * per_m):
        for last in _near(posts, set_mm + (to + on) * per_m):
            found += _meeting(before, after, (first - set_mm) / per_m, (last - first) / per_m)
    return min(found, key=lambda place: math.dist(place, at), default=None)


def _meeting(begin: Point, end: Point, one: float, other: float) -> Sequence[Point]:
    """Return the two places that are so far from one place and from another; none where there is no such."""
    apart = math.dist(begin, end)
    if not (one > 0.0 and other > 0.0 and abs(one - other) <= apart <= one + other):
        return ()
    east, north = (end[0] - begin[0]) / apart, (end[1] - begin[1]) / apart
    along = (apart**2 + one**2 - other**2) / (2 * apart)
    off = math.sqrt(max(one**2 - along**2, 0.0))
    x, y = begin[0] + along * east, begin[1] + along * north
    return (x - off * north, y + off * east), (x + off * north, y - off * east)


def _near(posts: Sequence[int], at_mm: float) -> Sequence[int]:
    middle = bisect_left(posts, at_mm)
    return posts[max(0, middle - NEAR_POSTS) : middle + NEAR_POSTS]
