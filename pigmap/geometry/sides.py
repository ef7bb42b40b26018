"""Straight sides: those of outlines, an index over many of them, and where two sets of them lie flush.

Two sides lie flush where one runs beside the other within `FLUSH_M` at both ends of their common stretch and
within `FLUSH_DEG` of its direction. Ten centimetres are less than the play of a net between two posts.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import cached_property
from typing import NamedTuple, TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

FLUSH_M = 0.10
"""Greatest distance between two sides that count as one [grid m]. Own choice."""

BESIDE_M, BESIDE_FOR_M = 1.0, 3.0
"""A net that runs within the first of the edge of some ground for more than the second [grid m] is taken to close it:
people set standing ground down by eye, and a net that is left up by mistake lets no pig out. Own choice."""

DRAWN_OUT = 1.25
"""A line of up to so many lengths of a net is that of one net: corners that someone clicked by eye draw it out."""

FLUSH_DEG = 0.5
"""Greatest angle between two sides that count as one [degrees]. Own choice."""

Edges: TypeAlias = NDArray[np.float64]
"""Sides as (n, 2, 2): begin and end of each, east and north [grid m]."""


def edges_of(shapes: Iterable[BaseGeometry]) -> Edges:
    """Return the sides of outlines, and the stretches of lines, in order.

    Rings of areas are turned so that the ground **outside** the area lies to the right of each side.
    """
    found = np.array([*shapes], dtype=np.object_)
    areas = shapely.get_dimensions(found) == 2
    found[areas] = shapely.boundary(shapely.orient_polygons(found[areas]))
    points, line = shapely.get_coordinates(shapely.get_parts(found), return_index=True)
    edges = np.stack([points[:-1], points[1:]], axis=1)
    joined = (line[:-1] == line[1:]) & np.any(edges[:, 0] != edges[:, 1], axis=1)
    kept: Edges = edges[joined]
    return kept


class Sides:
    """Many sides with an index over them; new ground lies to the right of each.

    Parameters
    ----------
    edges
        Begin and end of each side, (n, 2, 2) [grid m].
    """

    def __init__(self, edges: Edges) -> None:
        self.edges: Edges = np.ascontiguousarray(edges, dtype=np.float64).reshape(-1, 2, 2)
        self.edges.setflags(write=False)

    def __len__(self) -> int:
        return len(self.edges)

    @cached_property
    def lengths(self) -> NDArray[np.float64]:
        """Length of each side, (n,) [grid m]."""
        ways = self.edges[:, 1] - self.edges[:, 0]
        return np.hypot(ways[:, 0], ways[:, 1])

    @cached_property
    def units(self) -> NDArray[np.float64]:
        """Direction of each side as a unit vector, (n, 2)."""
        ways: NDArray[np.float64] = (self.edges[:, 1] - self.edges[:, 0]) / self.lengths[:, None]
        return ways

    @cached_property
    def turns_deg(self) -> NDArray[np.float64]:
        """Direction of each side, anticlockwise from east, (n,) [degrees]."""
        return np.degrees(np.arctan2(self.units[:, 1], self.units[:, 0]))

    @cached_property
    def _tree(self) -> shapely.STRtree:
        return shapely.STRtree(np.asarray(shapely.linestrings(self.edges)))

    def near(self, bounds: tuple[float, float, float, float]) -> NDArray[np.int64]:
        """Return the numbers of the sides whose boxes meet a box (west, south, east, north), in rising order."""
        if not len(self.edges):
            return np.empty(0, dtype=np.int64)
        return np.sort(self._tree.query(shapely.box(*bounds))).astype(np.int64)

    def joined(self, *others: Sides) -> Sides:
        """Return these sides followed by others."""
        return Sides(np.concatenate([self.edges, *(each.edges for each in others)]))


def sides_of(shapes: Iterable[BaseGeometry]) -> Sides:
    """Return the sides of outlines with an index over them."""
    return Sides(edges_of(shapes))


class Flush(NamedTuple):
    """Stretches where sides lie flush with others: which side, from where to where along it [grid m]."""

    side: NDArray[np.int64]
    begin_m: NDArray[np.float64]
    end_m: NDArray[np.float64]


def flush_stretches(edges: Edges, others: Edges) -> Flush:
    """Return every stretch of `edges` (m, 2, 2) that lies flush with one of `others` (n, 2, 2).

    Ends within `FLUSH_M` of a corner count as that corner. Stretches may overlap where others do.
    """
    begin, way = edges[:, None, 0], edges[:, 1] - edges[:, 0]
    length = np.hypot(way[:, 0], way[:, 1])
    unit = (way / length[:, None])[:, None, None, :]
    from_begin = others[None] - begin[:, :, None, :]
    along = from_begin[..., 0] * unit[..., 0] + from_begin[..., 1] * unit[..., 1]
    across = unit[..., 0] * from_begin[..., 1] - unit[..., 1] * from_begin[..., 0]
    return _kept(along, across, length)


def _kept(along: NDArray[np.float64], across: NDArray[np.float64], length: NDArray[np.float64]) -> Flush:
    run = along[..., 1] - along[..., 0]
    slope = (across[..., 1] - across[..., 0]) / np.where(np.abs(run) < 1e-12, math.inf, run)
    low = np.clip(along.min(axis=-1), 0.0, length[:, None])
    high = np.clip(along.max(axis=-1), 0.0, length[:, None])
    at_low = across[..., 0] + slope * (low - along[..., 0])
    at_high = across[..., 0] + slope * (high - along[..., 0])
    flush = high - low > np.minimum(FLUSH_M, length / 2)[:, None]
    flush &= np.abs(slope) <= math.tan(math.radians(FLUSH_DEG))
    flush &= np.maximum(np.abs(at_low), np.abs(at_high)) <= FLUSH_M
    side, other = np.nonzero(flush)
    begin, end = low[side, other], high[side, other]
    begin = np.where(begin <= FLUSH_M, 0.0, begin)
    end = np.where(length[side] - end <= FLUSH_M, length[side], end)
    return Flush(side.astype(np.int64), begin, end)


def flush_pairs(edges: Edges, others: Edges) -> tuple[Flush, NDArray[np.float64], NDArray[np.float64]]:
    """Return where each of `edges` (n, 2, 2) lies flush with the one of `others` (n, 2, 2) in the same place.

    With the stretches, whose `side` is the number of the pair, go the places along the others at which they begin
    and end, (m,) and (m,) [grid m].
    """
    begin, way = edges[:, 0], edges[:, 1] - edges[:, 0]
    length = np.hypot(way[:, 0], way[:, 1])
    unit = way / length[:, None]
    from_begin = others - begin[:, None]
    along = np.einsum("nij,nj->ni", from_begin, unit)
    across = unit[:, None, 0] * from_begin[..., 1] - unit[:, None, 1] * from_begin[..., 0]
    flush = _kept(along[:, None], across[:, None], length)
    first, last = along[flush.side].T
    other_way = others[flush.side, 1] - others[flush.side, 0]
    scale = np.hypot(other_way[:, 0], other_way[:, 1]) / (last - first)
    return flush, (flush.begin_m - first) * scale, (flush.end_m - first) * scale


def stands_along(line: shapely.LineString, ground: shapely.Polygon) -> bool:
    """Whether a line runs along the edge of some ground from end to end, within `FLUSH_M`."""
    points = shapely.points(shapely.get_coordinates(line))
    return bool(shapely.dwithin(points, ground.exterior, FLUSH_M).all())


def closes(line: shapely.LineString, ground: shapely.Polygon) -> bool:
    """Whether a net along a line closes some ground too, in part at least: then it must stay up as a whole."""
    if not shapely.dwithin(line, ground.boundary, BESIDE_M):
        return False
    beside = line.intersection(ground.boundary.buffer(BESIDE_M)).length
    return bool(beside > BESIDE_FOR_M or len(flush_stretches(edges_of([ground]), edges_of([line])).side))


def faces(line: shapely.LineString, ground: shapely.Polygon) -> tuple[float, float]:
    """Return the direction, east and north, to which a line along the edge of some ground has the outside."""
    points = shapely.get_coordinates(line)
    way = points[-1] - points[0]
    out = np.array([way[1], -way[0]])
    length = float(np.hypot(*out))
    from_inside = shapely.get_coordinates(line.interpolate(0.5, normalized=True))[0]
    from_inside = from_inside - shapely.get_coordinates(ground.centroid)[0]
    if length < FLUSH_M:
        return float(from_inside[0]), float(from_inside[1])
    turned = out if float(out @ from_inside) >= 0 else -out
    return float(turned[0]), float(turned[1])
