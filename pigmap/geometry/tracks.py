"""Tracks: outlines and lines measured along themselves, and where any two of many lie flush, all found at once."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple, cast

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring

from pigmap.geometry.sides import FLUSH_M, Edges, flush_pairs

Span = tuple[float, float]


class Stretch(NamedTuple):
    """Where a track lies flush with another, measured along both [grid m]."""

    begin_m: float
    end_m: float
    """Along the track itself; it ends after it begins."""
    other_begin_m: float
    other_end_m: float
    """Along the other, at begin and end; they fall where the other runs the other way."""

    def along(self, begin_m: float, end_m: float) -> Span | None:
        """Return what of a stretch of the other lies along the track; None where nothing does."""
        low, high = sorted((self.other_begin_m, self.other_end_m))
        low, high = max(low, begin_m), min(high, end_m)
        if high <= low:
            return None
        scale = (self.end_m - self.begin_m) / (self.other_end_m - self.other_begin_m)
        ends = (self.begin_m + (at - self.other_begin_m) * scale for at in (low, high))
        first, last = sorted(ends)
        return first, last


class Tracks:
    """Rings and lines of many shapes, each measured from its first point.

    Parameters
    ----------
    shapes
        Areas, whose every ring is a track, and lines. One that is given twice is there twice.
    """

    def __init__(self, shapes: Sequence[BaseGeometry]) -> None:
        self._lines, shape = _parts(shapes)
        ends = np.searchsorted(shape, np.arange(len(shapes) + 1)).tolist()
        self.of_shape: list[tuple[int, ...]] = [tuple(range(*each)) for each in pairwise(ends)]
        """The numbers of the tracks of each shape."""
        edges, track, begins = _edges(self._lines)
        lengths = np.zeros(len(self._lines))
        np.add.at(lengths, track, np.hypot(*(edges[:, 1] - edges[:, 0]).T))
        self.length_m: list[float] = lengths.tolist()
        """Length of each track [grid m]."""
        self.beside: list[dict[int, list[Stretch]]] = [{} for _ in self._lines]
        """For each track the others that lie flush with it somewhere, and where."""
        self._meet(edges, track, begins)

    def line(self, track: int, begin_m: float, end_m: float) -> shapely.LineString:
        """Return the line from one place along a track to another, past its first point too where it is a ring."""
        whole, length = self._lines[track], self.length_m[track]
        if end_m <= length:
            return cast(shapely.LineString, substring(whole, begin_m, end_m))
        twice = np.concatenate([shapely.get_coordinates(whole), shapely.get_coordinates(whole)[1:]])
        return cast(shapely.LineString, substring(shapely.LineString(twice), begin_m, end_m))

    def _meet(self, edges: Edges, track: NDArray[np.int64], begins: NDArray[np.float64]) -> None:
        low, high = edges.min(axis=1) - FLUSH_M, edges.max(axis=1) + FLUSH_M
        boxes = np.asarray(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1]))
        own, other = shapely.STRtree(np.asarray(shapely.linestrings(edges))).query(boxes)
        apart = track[own] != track[other]
        own, other = own[apart], other[apart]
        flush, other_begin, other_end = flush_pairs(edges[own], edges[other])
        pair = flush.side
        rows = zip(
            track[own[pair]].tolist(),
            track[other[pair]].tolist(),
            (begins[own[pair]] + flush.begin_m).tolist(),
            (begins[own[pair]] + flush.end_m).tolist(),
            (begins[other[pair]] + other_begin).tolist(),
            (begins[other[pair]] + other_end).tolist(),
            strict=True,
        )
        for here, there, *stretch in rows:
            self.beside[here].setdefault(there, []).append(Stretch(*stretch))


def _parts(shapes: Sequence[BaseGeometry]) -> tuple[NDArray[np.object_], NDArray[np.int64]]:
    """Return the rings of areas and the parts of lines, and the number of the shape that each is of, in order."""
    given = np.array([*shapes], dtype=np.object_)
    areas = shapely.get_dimensions(given) == 2
    rings, of_area = shapely.get_rings(given[areas], return_index=True)
    lines, of_line = shapely.get_parts(given[~areas], return_index=True)
    shape = np.concatenate([np.flatnonzero(areas)[of_area], np.flatnonzero(~areas)[of_line]])
    order = np.argsort(shape, kind="stable")
    return np.concatenate([rings, lines])[order], shape[order]


def _edges(lines: NDArray[np.object_]) -> tuple[Edges, NDArray[np.int64], NDArray[np.float64]]:
    """Return the sides of all tracks, of which track each is, and where along it each begins."""
    points, track = shapely.get_coordinates(lines, return_index=True)
    edges = np.stack([points[:-1], points[1:]], axis=1)
    there = (track[:-1] == track[1:]) & np.any(edges[:, 0] != edges[:, 1], axis=1)
    edges, track = edges[there], track[:-1][there].astype(np.int64)
    ends = np.cumsum(np.hypot(*(edges[:, 1] - edges[:, 0]).T))
    begins = np.concatenate([[0.0], ends[:-1]]) if len(ends) else ends
    first = np.searchsorted(track, track)
    found: NDArray[np.float64] = begins - begins[first]
    return edges, track, found
