"""One shift and turn that carries shapes along; and the one that carries what hangs on a side of ground that moved."""

from __future__ import annotations

import math
from typing import TypeVar

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.sides import FLUSH_M, edges_of, flush_stretches
from pigmap.records.frozen import dataclass

S = TypeVar("S", bound=BaseGeometry)

Points = NDArray[np.float64]

AS_ONE_M = 0.005
"""Corners that are no farther off than this after one shift and turn were moved as one [grid m]. Own choice."""

_NO_TURN = 1e-9
"""Less than this is no turn [rad]: a tenth of a micrometre over a hundred metres."""


@dataclass(frozen=True, slots=True)
class Carry:
    """A turn about a place that is shifted at the same time: no length and no angle changes."""

    turn: float
    """Anticlockwise [rad]."""
    place: tuple[float, float]
    """A place before, east and north [grid m]."""
    to: tuple[float, float]
    """The same place afterwards."""

    def points(self, points: Points) -> Points:
        """Return points where they come to lie, (n, 2) [grid m]."""
        if self.turn == 0.0:
            return points + (np.array(self.to) - self.place)
        cos, sin = math.cos(self.turn), math.sin(self.turn)
        off = points - self.place
        return np.stack([off[:, 0] * cos - off[:, 1] * sin, off[:, 0] * sin + off[:, 1] * cos], axis=1) + self.to

    def shape(self, shape: S) -> S:
        """Return a shape where it comes to lie."""
        return shapely.transform(shape, self.points)


def corners_of(outline: shapely.Polygon) -> Points:
    """Return the corners of the outer edge of some ground, anticlockwise, each once, (n, 2) [grid m]."""
    ring: Points = shapely.get_coordinates(shapely.orient_polygons(outline).exterior)
    return ring[:-1][np.any(np.diff(ring, axis=0) != 0.0, axis=1)]


def corners_after(before: shapely.Polygon, after: shapely.Polygon) -> Points:
    """Return where each of `corners_of(before)` lies in an outline that was moved or clicked anew, (n, 2) [grid m].

    Of as many corners as before, each goes with one in order, in the order round in which they moved most alike. Where
    corners came or went, each goes with the nearest one, after the shift of the middle if that brings them nearer.
    """
    old, new = corners_of(before), corners_of(after)
    if len(old) == len(new):
        return min((np.roll(new, -first, axis=0) for first in range(len(new))), key=lambda each: _unlike(old, each))
    shifts = (np.zeros(2), new.mean(axis=0) - old.mean(axis=0))
    tried = [np.hypot(*(new[None] - (old + shift)[:, None]).transpose(2, 0, 1)) for shift in shifts]
    best = min(tried, key=lambda off: float(off.min(axis=1).sum()))
    nearest: Points = new[best.argmin(axis=1)]
    return nearest


def _unlike(old: Points, new: Points) -> float:
    moved = new - old
    return float(((moved - moved.mean(axis=0)) ** 2).sum())


def carried_as_one(before: shapely.Polygon, after: shapely.Polygon) -> Carry | None:
    """Return the shift and turn that brings one outline to lie on another; None where corners moved unlike each other.

    Examples
    --------
    >>> carried_as_one(shapely.box(0, 0, 50, 40), shapely.box(3, -2, 53, 38))
    Carry(turn=0.0, place=(25.0, 20.0), to=(28.0, 18.0))
    >>> carried_as_one(shapely.box(0, 0, 50, 40), shapely.box(0, 0, 50, 41)) is None
    True
    """
    old = corners_of(before)
    new = corners_after(before, after)
    if len(corners_of(after)) != len(old):
        return None
    middle, to = old.mean(axis=0), new.mean(axis=0)
    a, b = old - middle, new - to
    turn = math.atan2(float((a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum()), float((a * b).sum()))
    carry = _carry(turn, middle, to)
    off = np.hypot(*(carry.points(old) - new).T)
    return carry if float(off.max()) <= AS_ONE_M else None


def carried_by_side(before: shapely.Polygon, after: shapely.Polygon, neighbour: shapely.Polygon) -> Carry | None:
    """Return the shift and turn that carries a neighbour along with the side that it shares with moved ground.

    The side keeps the end that moved less, where a corner of the neighbour stands, and the neighbour turns about it
    with the side. Ground that was moved as one carries everything with it.

    Parameters
    ----------
    before, after
        The ground as it was and as it is [grid m].
    neighbour
        What hangs on it, as it was.

    Returns
    -------
    Carry or None
        None where the two share no side.
    """
    edges = edges_of([shapely.LinearRing(corners_of(before))])
    found = flush_stretches(edges, edges_of([neighbour]))
    if not len(found.side):
        return None
    as_one = carried_as_one(before, after)
    if as_one is not None:
        return as_one
    longest = int(np.argmax(found.end_m - found.begin_m))
    begin, end = edges[found.side[longest]]
    to_begin, to_end = _place_after(before, after, begin), _place_after(before, after, end)
    length = float(np.hypot(*(end - begin)))
    stands = (found.begin_m[longest] <= FLUSH_M, found.end_m[longest] >= length - FLUSH_M)
    kept_begin = _keeps_begin(stands, float(np.hypot(*(to_begin - begin))), float(np.hypot(*(to_end - end))))
    turn = _turn(end - begin, to_end - to_begin)
    return _carry(turn, begin, to_begin) if kept_begin else _carry(turn, end, to_end)


def _keeps_begin(stands: tuple[bool, bool], begin_moved: float, end_moved: float) -> bool:
    if stands[0] != stands[1]:
        return stands[0]
    return begin_moved <= end_moved


def _place_after(before: shapely.Polygon, after: shapely.Polygon, corner: Points) -> Points:
    old = corners_of(before)
    at = int(np.argmin(np.hypot(*(old - corner).T)))
    place: Points = corners_after(before, after)[at]
    return place


def _turn(before: Points, after: Points) -> float:
    if not np.any(after):
        return 0.0  # the side is gone: its ends came to be one corner
    return math.atan2(float(before[0] * after[1] - before[1] * after[0]), float((before * after).sum()))


def _carry(turn: float, place: Points, to: Points) -> Carry:
    east, north = place.tolist()
    to_east, to_north = to.tolist()
    return Carry(0.0 if abs(turn) < _NO_TURN else turn, (east, north), (to_east, to_north))
