"""Corners of a planned paddock that are set one by one, each at a post where it can be."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

import numpy as np

from pigmap.fence.bays import corner_in_whole_bays, posts_to, set_so_far_mm
from pigmap.fence.laid import STAKE_MM
from pigmap.geometry.corner_snap import Caught, CornerSnap
from pigmap.geometry.sides import Sides
from pigmap.records import NetKind
from pigmap.session.placing.ground import PlacingGround

Point = tuple[float, float]
WHOLE_SHARE = 0.5
"""A corner from which the paddock closes in whole bays catches within this share of the reach. Own choice."""


class Walking:
    """Where the next corner comes to rest; made once for a ground and a kind of net.

    Parameters
    ----------
    ground, kind
        Where it is placed, and of which nets.
    standing, fences, field_edges
        What corners are drawn to.
    """

    def __init__(
        self,
        ground: PlacingGround,
        kind: NetKind,
        *,
        standing: bool = True,
        fences: bool = True,
        field_edges: bool = True,
    ) -> None:
        self.ground = ground
        self.kind = kind
        self._asked: tuple[tuple[Point, ...], tuple[int, ...]] = ((), ())
        self._begun: tuple[tuple[Point, ...], int] = ((), 0)
        none = Sides(np.empty((0, 2, 2)))
        self._snap = CornerSnap(
            ground.snap_sides() if standing else none,
            ground.snap_sides(standing=False, fences=fences, field_edges=field_edges),
            kind.bays_mm,
            ground_per_grid=ground.ground_per_grid,
        )

    def set_mm(self, points: Sequence[Point]) -> tuple[int, ...]:
        """Return how much net stands from where it begins to each of some corners [mm]; what was asked last is kept."""
        asked = tuple(points)
        if asked != self._asked[0]:
            self._asked = asked, set_so_far_mm(asked, self.ground.sides, self.ground.ground_per_grid)
        return self._asked[1]

    def set_ahead_mm(self, points: Sequence[Point], pointer: Point) -> tuple[int, ...]:
        """Return the same of the last of some corners, of the pointer, and of the first once the walk closes [mm]."""
        ahead = (points[-1], pointer, points[0])
        return set_so_far_mm(ahead, self.ground.sides, self.ground.ground_per_grid, begun_mm=self.set_to_last(points))

    def set_to_last(self, points: Sequence[Point]) -> int:
        """Return how much net stands to the last of some corners [mm]; 0 where there is none."""
        if self._begun[0] != tuple(points):
            self._begun = tuple(points), (*self.set_mm(points), 0)[max(len(points) - 1, 0)]
        return self._begun[1]

    def begins_at(self, points: Sequence[Point]) -> int:
        """Return the corner of a closed outline from which it is walked: where a side begins that stands already.

        The side after it is open, so that nets are counted from the end of what stands; 0 where nothing of it stands.
        """
        count = len(points)
        stands = [each == 0 for each in self.set_mm([*points, points[0]])[1:]] if count else []
        ends = (at for at in range(count) if stands[at] and not stands[(at + 1) % count])
        return next(ends, 0)

    def bays(self, before: int, until: int) -> tuple[int, int]:
        """Return the whole bays that nets take along a side, and what is over them [mm].

        Parameters
        ----------
        before, until
            How much net stands to its begin and to its end [mm]; where it is less, nets begin anew along it.
        """
        before = before if until > before else 0
        posts = posts_to(until, self.kind.bays_mm)
        first, last = (bisect_right(posts, each + STAKE_MM) - 1 for each in (before, until))
        return last - first, max(until - posts[last], 0)

    def next(self, x_m: float, y_m: float, points: Sequence[Point], reach_m: float) -> Caught:
        """Return where the next corner comes to rest for a pointer [grid m]; a reach of 0 leaves it there."""
        per_m = self.ground.ground_per_grid * 1000
        set_mm = self.set_to_last(points)

        def onward(length_m: float) -> float:
            wanted = set_mm + length_m * per_m
            posts = [post for post in posts_to(wanted, self.kind.bays_mm) if post > set_mm + STAKE_MM]
            return (min(posts, key=lambda post: abs(post - wanted)) - set_mm) / per_m

        caught = self._snap.at(x_m, y_m, points, reach_m, onward)
        if caught.by != "post" or len(points) < 2:
            return caught
        whole = corner_in_whole_bays(
            points[-1], (x_m, y_m), points[0], set_mm, self.kind.bays_mm, self.ground.ground_per_grid
        )
        near = whole is not None and np.hypot(whole[0] - x_m, whole[1] - y_m) <= reach_m * WHOLE_SHARE
        return Caught(whole, "post") if near and whole is not None else caught
