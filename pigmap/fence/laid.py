"""Where each net of a run begins and ends, where its posts stand, and how far its corners are from them."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from itertools import accumulate
from typing import NamedTuple

import numpy as np

from pigmap.fence.count import PLAY_MM
from pigmap.fence.fitted import CORNER_DEG
from pigmap.geometry.runs import Run
from pigmap.records import NetKind

STAKE_MM = 300
"""A corner that is farther than this from every post needs a stake of its own [mm]. Assumed."""
LEAST_SLACK, MOST_SLACK = 0.01, 0.05
"""A net cannot be pulled straight by the first share of its length, and still stands well with the second given away.
Assumed."""


class LaidNet(NamedTuple):
    """One net in its place along a run."""

    kind: NetKind
    turned: bool
    """Whether the post that comes last in its list of bays stands first."""
    begin_mm: int

    @property
    def bays_mm(self) -> tuple[int, ...]:
        """Its bays in the direction of the run [mm]."""
        return self.kind.bays_mm[::-1] if self.turned else self.kind.bays_mm

    @property
    def end_mm(self) -> int:
        """Where its last post would stand if it were all laid along the run [mm]."""
        return self.begin_mm + self.kind.length_mm


class Corner(NamedTuple):
    """A corner of a run."""

    at_mm: int
    """How far along the run it is [mm]."""
    off_mm: int
    """How far the nearest post is from it [mm]."""

    @property
    def own_stake(self) -> bool:
        """Whether it needs a stake of its own, or must move."""
        return self.off_mm > STAKE_MM


class Ending(NamedTuple):
    """What becomes of the length of nets that a run does not need."""

    folded_bays: int
    """Bays that are folded back along the fence at the last post, standing and clear of the ground."""
    folded_mm: int
    """How long they are [mm]."""
    slack_mm: int
    """What else is left [mm]: in the last bay where some are folded, else over all nets; below 0 they are drawn out."""
    taut: bool
    """Whether it is less than what a net cannot be pulled straight by: a corner may have to give way."""


class LaidRun(NamedTuple):
    """The nets of a run in order."""

    nets: tuple[LaidNet, ...]
    posts_mm: tuple[int, ...]
    """Where posts stand along the run, from its begin to its end [mm]; two that stand together count once."""
    corners: tuple[Corner, ...]
    ending: Ending

    @property
    def farthest_off_mm(self) -> int:
        """How far the corner that is farthest from a post is from it [mm]."""
        return max((corner.off_mm for corner in self.corners), default=0)


def corners_of(run: Run, ground_per_grid: float = 1.0) -> tuple[int, ...]:
    """Return how far along a run each of its corners is, without its ends [mm of ground].

    Examples
    --------
    >>> corners_of(Run(np.array([(0.0, 0.0), (20.0, 0.0), (40.0, 0.0), (40.0, 10.0)]), 50_000))
    (40000,)
    """
    ways = np.diff(run.line, axis=0)
    turns = np.degrees(np.arctan2(ways[:, 1], ways[:, 0]))
    bends = np.abs((np.diff(turns) + 180.0) % 360.0 - 180.0) >= CORNER_DEG
    along = np.cumsum(np.hypot(*ways.T))[:-1][bends]
    return tuple(np.rint(along * ground_per_grid * 1000).astype(np.int64).tolist())


def laid(length_mm: int, corners_mm: Sequence[int], nets: Sequence[tuple[NetKind, bool]]) -> LaidRun:
    """Return nets laid one after the other along a run.

    Parameters
    ----------
    length_mm, corners_mm
        Of the run, and how far along it its corners are [mm].
    nets
        Kind of each net in order, and whether it is turned round. Together they reach along the run, but for its play.
    """
    begins = accumulate((kind.length_mm for kind, _ in nets), initial=0)
    placed = tuple(LaidNet(kind, turned, begin) for (kind, turned), begin in zip(nets, begins, strict=False))
    posts = [*accumulate((bay for net in placed for bay in net.bays_mm), initial=0)]
    standing = up_to(length_mm, posts)
    corners = tuple(Corner(at, off_post(at, standing)) for at in corners_mm)
    return LaidRun(placed, standing, corners, _ending(length_mm, posts, len(standing) - 1))


def up_to(length_mm: int, posts_mm: Sequence[int]) -> tuple[int, ...]:
    """Return the posts that stand along a run: the first that reaches its end, but for its play, stands there [mm]."""
    last = bisect_left(posts_mm, length_mm - PLAY_MM)
    return (*posts_mm[:last], length_mm) if last < len(posts_mm) else tuple(posts_mm)


def off_post(at_mm: int, posts_mm: Sequence[int]) -> int:
    """Return how far a place is from the nearest of posts in rising order [mm]."""
    after = bisect_left(posts_mm, at_mm)
    return min(abs(at_mm - post) for post in posts_mm[max(0, after - 1) : after + 1])


def _ending(length_mm: int, posts: Sequence[int], last: int) -> Ending:
    whole = posts[-1]
    slack = whole - length_mm
    if slack <= MOST_SLACK * whole or last == len(posts) - 1:
        return Ending(0, 0, slack, taut=slack < LEAST_SLACK * whole)
    return Ending(len(posts) - 1 - last, whole - posts[last], posts[last] - length_mm, taut=False)
