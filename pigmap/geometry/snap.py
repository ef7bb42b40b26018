"""Snapping: where a rectangle that follows the pointer comes to rest beside what stands."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.geometry.rectangle import Rectangle
from pigmap.geometry.sides import FLUSH_M, Sides

SnappedTo = Literal["corner", "side", "direction", "free"]

CORNER_PREFERENCE = 0.5
"""A place corner to corner counts as this much of its distance when it competes with places along a side."""


NET_REACH = 0.25
"""Beside a longer side it is drawn to the end of a net within this share of a net: then whole nets are shared."""


class Snapped(NamedTuple):
    """Where the rectangle rests, and what holds it there."""

    rectangle: Rectangle
    to: SnappedTo
    """``corner``: flush, a corner on a corner; ``side``: flush, whole posts along; ``direction``: turned to the
    field's; ``free``: as the pointer has it."""
    side: int = -1
    """Number of the standing side it rests on."""


def snap(
    ghost: Rectangle,
    sides: Sides | None,
    distance_m: float,
    *,
    bays_mm: Sequence[int] = (),
    direction_deg: float | None = None,
) -> Snapped:
    """Return where a rectangle that follows the pointer comes to rest; the same answer for the same question.

    Parameters
    ----------
    ghost
        The rectangle as it follows the pointer: its middle under it, turned as the person has turned it.
    sides
        Sides it may rest on, new ground to the right of each.
    distance_m
        How far it may be drawn to a place: so many pixels, in metres of the map [grid m].
    bays_mm
        Bays of its nets: beside a longer side it slides from post to post [mm]. Without them it slides freely.
    direction_deg
        Direction of the field, taken where no side holds it; None leaves it turned as it is.

    Notes
    -----
    It rests on a side with the one of its own four that needs the least turning. A corner on a corner of that side
    comes before a place along it if it is within reach, then one that begins at the end of a net and lies all along
    the side, so that whole nets are shared; and what a place leaves open of the side it rests on counts
    as so much of the reach, so that a little of a near side does not win over the whole of one a step away.
    """
    if sides is not None and len(sides) and distance_m > 0.0:
        found = _beside(ghost, sides, distance_m, bays_mm)
        if found is not None:
            return found
    if direction_deg is not None:
        return Snapped(ghost.turned_to(_nearest_turn(ghost.turned_deg, direction_deg)), "direction")
    return Snapped(ghost, "free")


def _nearest_turn(turned_deg: float, direction_deg: float) -> float:
    """Return the direction, turned by quarters, that is nearest to how something is turned."""
    return direction_deg + 90.0 * round((turned_deg - direction_deg) / 90.0)


class _Beside(NamedTuple):
    """The sides within reach, each with the ghost turned to it; lengths along and across the side [grid m]."""

    number: NDArray[np.int64]
    quarters: NDArray[np.int64]
    begin: NDArray[np.float64]
    unit: NDArray[np.float64]
    length: NDArray[np.float64]
    span: NDArray[np.float64]
    depth: NDArray[np.float64]
    start: NDArray[np.float64]
    """Where along the side the ghost would begin if it only turned."""
    off: NDArray[np.float64]
    """How far the ghost would stand off the side if it only turned."""


def _beside(ghost: Rectangle, sides: Sides, reach: float, bays_mm: Sequence[int]) -> Snapped | None:
    near = _near(ghost, sides, reach)
    if near is None:
        return None
    bays_m = np.cumsum(np.asarray(bays_mm, dtype=np.float64)) / 1000 / ghost.ground_per_grid
    corner = _corner_starts(near)
    slide = _post_starts(near, bays_m)
    at_corner = np.abs(corner - near.start) <= reach
    ends, at_end = _net_starts(near, bays_m, reach)
    start = np.where(at_corner, corner, np.where(at_end, ends, slide))
    shares = np.minimum(start + near.span, near.length) - np.maximum(start, 0.0)
    moved = np.hypot(start - near.start, near.off)
    unshared = 1.0 - shares / np.minimum(near.span, near.length)
    cost = np.where(at_corner | at_end, CORNER_PREFERENCE, 1.0) * moved + reach * unshared
    cost = np.where(shares > FLUSH_M, cost, math.inf)
    # Rounded, so that the last digits of coordinates never decide between places that are alike.
    best = int(np.lexsort((near.number, -np.round(shares, 3), np.round(cost, 3)))[0])
    if not math.isfinite(cost[best]):
        return None
    return Snapped(_resting(ghost, near, best, start[best]), "corner" if at_corner[best] else "side", near.number[best])


def _near(ghost: Rectangle, sides: Sides, reach: float) -> _Beside | None:
    x, y = ghost.centre
    long_m, wide_m = ghost.sides_m
    far = math.hypot(long_m, wide_m) / 2 + reach
    number = sides.near((x - far, y - far, x + far, y + far))
    begin, unit, length = sides.edges[number, 0], sides.units[number], sides.lengths[number]
    quarters = np.rint((ghost.turned_deg - sides.turns_deg[number]) / 90.0).astype(np.int64)
    lengthwise = quarters % 2 == 0
    span, depth = np.where(lengthwise, long_m, wide_m), np.where(lengthwise, wide_m, long_m)
    east, north = x - begin[:, 0], y - begin[:, 1]
    start = east * unit[:, 0] + north * unit[:, 1] - span / 2
    off = east * unit[:, 1] - north * unit[:, 0] - depth / 2
    kept = np.flatnonzero((np.abs(off) <= reach) & (start <= length) & (start + span >= 0.0))
    if not len(kept):
        return None
    return _Beside(
        number[kept],
        quarters[kept],
        begin[kept],
        unit[kept],
        length[kept],
        span[kept],
        depth[kept],
        start[kept],
        off[kept],
    )


def _corner_starts(near: _Beside) -> NDArray[np.float64]:
    """Where the ghost begins with its corner on the nearer corner of each side."""
    at_end = near.length - near.span
    return np.where(np.abs(near.start) <= np.abs(near.start - at_end), 0.0, at_end)


def _net_starts(
    near: _Beside, bays_m: NDArray[np.float64], reach: float
) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
    """Where the ghost begins at the nearest end of a net, and whether it is drawn there: all of it along the side."""
    if not len(bays_m):
        return near.start, np.zeros(len(near.start), dtype=bool)
    net = float(bays_m[-1])
    ends = np.rint(near.start / net) * net
    drawn = np.abs(ends - near.start) <= min(reach, NET_REACH * net)
    return ends, drawn & (ends >= -FLUSH_M) & (ends + near.span <= near.length + FLUSH_M)


def _post_starts(near: _Beside, bays_m: NDArray[np.float64]) -> NDArray[np.float64]:
    """Where the ghost begins with its corner on the nearest post along each side."""
    if not len(bays_m):
        return near.start
    net = float(bays_m[-1])
    posts = np.concatenate([[0.0], bays_m])
    whole = np.floor(near.start / net) * net
    rest = near.start - whole
    nearest = np.abs(rest[:, None] - posts[None, :]).argmin(axis=1)
    slid: NDArray[np.float64] = whole + posts[nearest]
    return slid


def _resting(ghost: Rectangle, near: _Beside, best: int, start: float) -> Rectangle:
    unit, turn = near.unit[best], math.degrees(math.atan2(near.unit[best, 1], near.unit[best, 0]))
    along, right = start + near.span[best] / 2, near.depth[best] / 2
    x = near.begin[best, 0] + along * unit[0] + right * unit[1]
    y = near.begin[best, 1] + along * unit[1] - right * unit[0]
    return replace(ghost, turned_deg=turn + 90.0 * int(near.quarters[best])).centred_at(float(x), float(y))
