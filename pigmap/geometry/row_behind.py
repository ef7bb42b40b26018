"""The row that hangs on ground that stands: which paddocks follow when it stands elsewhere, and to where."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from pigmap.geometry.carrying import Carry, Points, carried_by_side, corners_after, corners_of
from pigmap.geometry.runs import shared_runs
from pigmap.records.frozen import dataclass

SHARES_M = 1.0
"""Paddocks that have less than this of a side in common only touch [grid m]. Own choice."""


@dataclass(frozen=True, slots=True, eq=False)
class RowBehind:
    """What follows."""

    outlines: tuple[shapely.Polygon, ...]
    """The first so many of the row, where they come to lie [grid m]."""
    carry: Carry | None
    """How each of them is carried; None where nothing follows."""


def hang_on(standing: shapely.Polygon, row: Sequence[shapely.Polygon]) -> int:
    """Return how many paddocks of a row share a side, one after the other, with the ground that stands.

    Examples
    --------
    >>> hang_on(shapely.box(0, 0, 50, 50), [shapely.box(50, 0, 100, 50), shapely.box(150, 0, 200, 50)])
    1
    """
    before = standing
    for count, outline in enumerate(row):
        if not any(run.length_m >= SHARES_M for run in shared_runs(outline, [before])):
            return count
        before = outline
    return len(row)


def row_behind(before: shapely.Polygon, after: shapely.Polygon, row: Sequence[shapely.Polygon]) -> RowBehind:
    """Return what follows of a row when the ground that it hangs on stands elsewhere.

    All of it is carried by one shift, and by the turn of the side that the first of the row shares, so that each side
    keeps its length and each shared side is shared still.

    Parameters
    ----------
    before, after
        The ground that stands, as it was thought to stand and as it does [grid m].
    row
        The paddocks that are planned after it, in order.
    """
    count = hang_on(before, row)
    carry = carried_by_side(before, after, row[0]) if count else None
    if carry is None:
        return RowBehind((), None)
    return RowBehind(tuple(carry.shape(outline) for outline in row[:count]), carry)


def along_new_edge(line: shapely.LineString, before: shapely.Polygon, after: shapely.Polygon) -> shapely.LineString:
    """Return a line that runs along the edge of some ground where it runs along the edge as that is now.

    It begins and ends at the same share of the way from corner to corner, and goes round the corners between.
    """
    old, new = corners_of(before), corners_of(after)
    ring, ring_after = shapely.LinearRing(old), shapely.LinearRing(new)
    knots = _knots(old, corners_after(before, after), ring, ring_after)
    points = shapely.get_coordinates(line)
    begin = float(ring.project(shapely.Point(points[0])))
    ahead = float(ring.project(shapely.Point(line.interpolate(min(0.5, line.length / 2)))))
    forward = (ahead - begin) % ring.length < ring.length / 2
    first = begin if forward else (begin - line.length) % ring.length
    found = _stretch(ring_after, _at(first, knots), _at(first + line.length, knots))
    return shapely.LineString(found if forward else found[::-1])


_Knots = tuple[Points, Points]


def _knots(old: Points, to: Points, ring: shapely.LinearRing, ring_after: shapely.LinearRing) -> _Knots:
    """Return how far round each corner is before and after, for two rounds: beyond the first corner it goes on."""
    was = shapely.line_locate_point(ring, shapely.points(old))
    now = np.asarray(shapely.line_locate_point(ring_after, shapely.points(to)), dtype=np.float64)
    now = now[0] + (now - now[0]) % ring_after.length
    if np.any(np.diff(now) < 0.0):  # corners changed places: only the share of the whole way round is kept
        now = now[0] + was / ring.length * ring_after.length
    return (
        np.concatenate([was, was + ring.length, [2 * ring.length]]),
        np.concatenate([now, now + ring_after.length, [now[0] + 2 * ring_after.length]]),
    )


def _at(way: float, knots: _Knots) -> float:
    return float(np.interp(way, *knots))


def _stretch(ring: shapely.LinearRing, begin: float, end: float) -> Points:
    """Return the points of a ring from one way round to another, corners included."""
    corners = shapely.line_locate_point(ring, shapely.points(shapely.get_coordinates(ring)[:-1]))
    rounds = np.concatenate([corners + number * ring.length for number in range(4)])
    between = np.sort(rounds[(rounds > begin + 1e-6) & (rounds < end - 1e-6)])
    ways = np.concatenate([[begin], between, [end]]) % ring.length
    points: Points = shapely.get_coordinates(shapely.line_interpolate_point(ring, ways))
    return points
