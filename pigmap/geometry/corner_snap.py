"""Snapping of a corner that is set by hand: to corners and sides that are there, to right angles, to whole posts."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.geometry.sides import FLUSH_M, Edges, Sides

CaughtBy = Literal["first", "corner", "side", "angle", "post", "free"]
Point = tuple[float, float]
SIDE_SHARE = 0.75
"""A side catches within this share of the reach of a corner. Own choice."""
ANGLE_SHARE = 0.5
"""So does a right angle. Own choice."""
MOST_SIDES = 2_000
"""Up to so many sides all are looked at, which takes less time than to ask an index."""
NET_SHARE = 0.25
"""Along a side the end of a net catches within this share of a net: then whole nets are shared."""


class Caught(NamedTuple):
    """Where the next corner would be, and what holds it there."""

    point: Point
    by: CaughtBy


class CornerSnap:
    """Finds where a corner comes to rest; made once for what stands, asked for every move of the pointer.

    Parameters
    ----------
    standing
        Sides of nets that stand: along them it slides from post to post.
    lines
        Other sides: permanent fences, edges of fields.
    bays_mm
        Bays of a net [mm].
    directions_deg
        Directions that a side takes easily besides those of the sides it begins at: that of the field.
    ground_per_grid
        Ground metres in one grid metre.
    """

    def __init__(
        self,
        standing: Sides,
        lines: Sides,
        bays_mm: Sequence[int],
        *,
        directions_deg: Sequence[float] = (),
        ground_per_grid: float = 1.0,
    ) -> None:
        self._sides = standing.joined(lines)
        self._standing = len(standing)
        self._posts_m = np.concatenate([[0.0], np.cumsum(np.asarray(bays_mm))]) / 1000 / ground_per_grid
        self._directions = tuple(directions_deg)
        self._low, self._high = self._sides.edges.min(axis=1), self._sides.edges.max(axis=1)
        self._known_units: tuple[tuple[Point, ...], list[Point]] = ((), [])

    def at(
        self, x_m: float, y_m: float, set_points: Sequence[Point], reach_m: float, onward: Callable[[float], float]
    ) -> Caught:
        """Return where the next corner comes to rest for a pointer.

        Parameters
        ----------
        x_m, y_m
            The pointer [grid m].
        set_points
            Corners that are set.
        reach_m
            How far a corner draws it; 0 for nothing at all [grid m].
        onward
            Returns the length from the last corner to the post that is nearest to a length [grid m].
        """
        at = np.array([x_m, y_m])
        if reach_m <= 0.0:
            return Caught((x_m, y_m), "free")
        if len(set_points) >= 3 and _off(at, np.array(set_points[0])) <= reach_m:
            return Caught(set_points[0], "first")
        near = self._near(at, reach_m)
        there = self._corner(at, near, reach_m)
        there = there or self._on_side(at, near, set_points, reach_m * SIDE_SHARE, onward)
        if there is not None or not set_points:
            return there or Caught((x_m, y_m), "free")
        return self._onward((x_m, y_m), set_points, reach_m * ANGLE_SHARE, onward)

    def _near(self, at: NDArray[np.float64], reach: float) -> NDArray[np.int64]:
        if len(self._sides) > MOST_SIDES:
            x, y = at.tolist()
            return self._sides.near((x - reach, y - reach, x + reach, y + reach))
        met: NDArray[np.int64] = np.flatnonzero(np.all((self._low <= at + reach) & (self._high >= at - reach), axis=1))
        return met

    def _corner(self, at: NDArray[np.float64], near: NDArray[np.int64], reach: float) -> Caught | None:
        if not len(near):
            return None
        ends = self._sides.edges[near].reshape(-1, 2)
        off = np.hypot(*(ends - at).T)
        best = int(np.argmin(np.round(off, 6)))
        return Caught(_point(ends[best]), "corner") if off[best] <= reach else None

    def _on_side(
        self,
        at: NDArray[np.float64],
        near: NDArray[np.int64],
        set_points: Sequence[Point],
        reach: float,
        onward: Callable[[float], float],
    ) -> Caught | None:
        """Return the place on the nearest side: at a post of nets that stand, at a post of its own nets elsewhere."""
        if not len(near):
            return None
        begin, unit, length = self._sides.edges[near, 0], self._sides.units[near], self._sides.lengths[near]
        along = np.clip(np.einsum("ij,ij->i", at - begin, unit), 0.0, length)
        off = np.hypot(*(begin + unit * along[:, None] - at).T)
        best = int(np.argmin(np.round(off, 6)))
        if off[best] > reach:
            return None
        if near[best] < self._standing:
            place = self._post(float(along[best]), float(length[best]))
        else:
            place = _at_own_post(begin[best], unit[best], float(length[best]), float(along[best]), set_points, onward)
        return Caught(_point(begin[best] + unit[best] * place), "side")

    def _post(self, along: float, length: float) -> float:
        """Return the nearest post of nets that stand one after the other, the end of a net or a corner if near."""
        net = float(self._posts_m[-1])
        end = round(along / net) * net
        whole = math.floor(along / net) * net
        post = whole + float(self._posts_m[np.abs(self._posts_m - (along - whole)).argmin()])
        place = end if abs(end - along) <= NET_SHARE * net / 2 else post
        half = float(self._posts_m[1]) / 2
        return length if place > length - half else place

    def _onward(self, at: Point, set_points: Sequence[Point], reach: float, onward: Callable[[float], float]) -> Caught:
        x, y = set_points[-1]
        east, north = at[0] - x, at[1] - y
        far = math.hypot(east, north)
        if far <= 1e-9:
            return Caught(set_points[-1], "free")
        best, least, goes = None, reach, 0.0
        for ux, uy in self._units(set_points):
            along, across = ux * east + uy * north, abs(ux * north - uy * east)
            if along > 0.0 and across <= least and (best is None or across < least):
                best, least, goes = (ux, uy), across, along
        if best is not None:
            length = onward(goes)
            return Caught((x + best[0] * length, y + best[1] * length), "angle")
        length = onward(far) / far
        return Caught((x + east * length, y + north * length), "post")

    def _units(self, set_points: Sequence[Point]) -> list[Point]:
        """Return the directions that the next side takes easily; those asked for last are kept."""
        ends = (*set_points[:2], *set_points[-2:])
        if self._known_units[0] != ends:
            turns = (math.radians(turn) for turn in self._turns(set_points))
            self._known_units = ends, [(math.cos(turn), math.sin(turn)) for turn in turns]
        return self._known_units[1]

    def _turns(self, set_points: Sequence[Point]) -> list[float]:
        """Return the directions that the next side takes easily: square to those at the last corner and the first."""
        bases = list(self._directions) + self._turns_at(set_points[-1])
        for (x, y), (to_x, to_y) in (*pairwise(set_points[-2:]), *pairwise(set_points[:2])):
            bases.append(math.degrees(math.atan2(to_y - y, to_x - x)))
        return [base + 90.0 * quarter for base in dict.fromkeys(bases) for quarter in range(4)]

    def _turns_at(self, point: Point) -> list[float]:
        """Return the directions of the sides that a corner lies on."""
        at = np.array(point)
        near = self._near(at, FLUSH_M)
        edges: Edges = self._sides.edges[near]
        units = self._sides.units[near]
        off = np.abs(units[:, 0] * (at - edges[:, 0])[:, 1] - units[:, 1] * (at - edges[:, 0])[:, 0])
        turns: list[float] = self._sides.turns_deg[near[off <= FLUSH_M]].tolist()
        return turns


def _at_own_post(
    begin: NDArray[np.float64],
    unit: NDArray[np.float64],
    length: float,
    along: float,
    set_points: Sequence[Point],
    onward: Callable[[float], float],
) -> float:
    """Return the place along a line, near one, that is a whole number of posts from the last corner."""
    if not set_points:
        return along
    way = np.array(set_points[-1]) - begin
    foot, off = float(way @ unit), float(abs(unit[0] * way[1] - unit[1] * way[0]))
    wanted = onward(math.hypot(along - foot, off))
    if wanted < off:
        return along
    half = math.sqrt(wanted**2 - off**2)
    place = min((foot - half, foot + half), key=lambda each: abs(each - along))
    return place if 0.0 <= place <= length else along


def _off(one: NDArray[np.float64], other: NDArray[np.float64]) -> float:
    return float(np.hypot(*(one - other)))


def _point(point: NDArray[np.float64]) -> Point:
    return float(point[0]), float(point[1])
