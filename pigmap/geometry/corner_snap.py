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
        there = self._corner(at, reach_m) or self._on_side(at, set_points, reach_m * SIDE_SHARE, onward)
        if there is not None or not set_points:
            return there or Caught((x_m, y_m), "free")
        return self._onward(at, set_points, reach_m * ANGLE_SHARE, onward)

    def _near(self, at: NDArray[np.float64], reach: float) -> NDArray[np.int64]:
        x, y = at.tolist()
        return self._sides.near((x - reach, y - reach, x + reach, y + reach))

    def _corner(self, at: NDArray[np.float64], reach: float) -> Caught | None:
        near = self._near(at, reach)
        if not len(near):
            return None
        ends = self._sides.edges[near].reshape(-1, 2)
        off = np.hypot(*(ends - at).T)
        best = int(np.argmin(np.round(off, 6)))
        return Caught(_point(ends[best]), "corner") if off[best] <= reach else None

    def _on_side(
        self, at: NDArray[np.float64], set_points: Sequence[Point], reach: float, onward: Callable[[float], float]
    ) -> Caught | None:
        """Return the place on the nearest side: at a post of nets that stand, at a post of its own nets elsewhere."""
        near = self._near(at, reach)
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

    def _onward(
        self, at: NDArray[np.float64], set_points: Sequence[Point], reach: float, onward: Callable[[float], float]
    ) -> Caught:
        last = np.array(set_points[-1])
        way = at - last
        far = float(np.hypot(*way))
        if far <= 1e-9:
            return Caught(set_points[-1], "free")
        turns = np.radians(np.array(self._turns(set_points)))
        units = np.stack([np.cos(turns), np.sin(turns)], axis=1) if len(turns) else np.empty((0, 2))
        along, across = units @ way, np.abs(units[:, 0] * way[1] - units[:, 1] * way[0])
        fitting = np.flatnonzero((along > 0.0) & (across <= reach))
        if len(fitting):
            best = int(fitting[np.argmin(across[fitting])])
            return Caught(_point(last + units[best] * onward(float(along[best]))), "angle")
        return Caught(_point(last + way / far * onward(far)), "post")

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
