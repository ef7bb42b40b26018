"""The stretches of lines and rings that lie near a view: a piece of the map strokes nothing else."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.rings import Rings


class Sides(NamedTuple):
    """Sides of lines and rings in device units, those near a view."""

    ends: NDArray[np.float64]
    """Begin and end of every side, (n, 2, 2)."""
    near: NDArray[np.bool_]
    """Whether the side may touch the view, (n,)."""
    first: NDArray[np.int64]
    """Index of the first side of each line or ring, and at the end n, (k + 1,)."""


class Stretch(NamedTuple):
    """Part of a line or ring, or all of a ring."""

    points: NDArray[np.float64]
    """Its corners, (n, 2)."""
    begun: float
    """How far along its line or ring it begins: where dashes are in their pattern."""
    whole: bool
    """Whether it is a ring that closes."""


def sides_near(rings: Rings, *, closed: bool, size: tuple[float, float], reach: float) -> Sides:
    """Return all sides, and which of them come within reach of the view from (0, 0) to `size`."""
    if not len(rings.points):
        return Sides(np.empty((0, 2, 2)), np.empty(0, dtype=np.bool_), np.zeros(1, dtype=np.int64))
    following = np.arange(1, len(rings.points) + 1)
    last = rings.starts[1:] - 1
    following[last] = rings.starts[:-1]
    begins, first = np.arange(len(rings.points)), rings.starts
    if not closed:
        begins = np.delete(begins, last)
        first = rings.starts - np.arange(len(rings.starts))
    ends = np.stack([rings.points[begins], rings.points[following[begins]]], axis=1)
    near = ((ends.max(axis=1) >= -reach) & (ends.min(axis=1) <= np.add(size, reach))).all(axis=1)
    return Sides(ends, near, first)


def stretches(sides: Sides, *, closed: bool, from_start: bool) -> Iterator[Stretch]:
    """Yield the stretches that are near.

    Parameters
    ----------
    sides
        From `sides_near`.
    closed
        Whether they are rings.
    from_start
        Whether a stretch ends where its ring starts, as dashes do; else it runs on over that corner.
    """
    for start, end in zip(sides.first[:-1].tolist(), sides.first[1:].tolist(), strict=True):
        near = sides.near[start:end]
        if near.any():
            yield from _of_one(sides.ends[start:end], near, closed=closed, from_start=from_start)


def _of_one(ends: NDArray[np.float64], near: NDArray[np.bool_], *, closed: bool, from_start: bool) -> Iterator[Stretch]:
    if closed and near.all():
        yield Stretch(ends[:, 0], 0.0, whole=True)
        return
    if closed and not from_start:
        turn = int(near.argmin())
        ends, near = np.roll(ends, -turn, axis=0), np.roll(near, -turn)
    lengths = np.hypot(*(ends[:, 1] - ends[:, 0]).T) if from_start else np.zeros(len(ends))
    reached = np.concatenate([[0.0], np.cumsum(lengths)])
    edges = np.flatnonzero(np.diff(near, prepend=False, append=False))
    for begin, end in edges.reshape(-1, 2).tolist():
        points = np.concatenate([ends[begin:end, 0], ends[end - 1 : end, 1]])
        yield Stretch(points, float(reached[begin]), whole=False)
