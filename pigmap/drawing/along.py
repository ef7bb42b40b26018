"""Spots at equal distances along lines."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray


class Spots(NamedTuple):
    """Points (n, 2) and the direction of the line there, anticlockwise from its first axis [degrees], (n,)."""

    points: NDArray[np.float64]
    turned_deg: NDArray[np.float64]


def spots_along(points: NDArray[np.float64], starts: NDArray[np.int64], *, every: float, first: float = 0.5) -> Spots:
    """Return spots along lines.

    Parameters
    ----------
    points, starts
        Corners of the lines (n, 2), and where each starts, (k + 1,).
    every
        Distance between two spots, in the unit of the corners; above 0.
    first
        Distance of the first spot from the line's start, as a share of `every`.

    Examples
    --------
    >>> line = np.array([[0.0, 0.0], [10.0, 0.0]])
    >>> spots_along(line, np.array([0, 2]), every=4.0, first=0.5).points.tolist()
    [[2.0, 0.0], [6.0, 0.0], [10.0, 0.0]]
    """
    found = [
        _one(points[start:end], every, first)
        for start, end in zip(starts[:-1].tolist(), starts[1:].tolist(), strict=True)
        if end - start >= 2
    ]
    if not found:
        return Spots(np.empty((0, 2)), np.empty(0))
    return Spots(np.concatenate([each.points for each in found]), np.concatenate([each.turned_deg for each in found]))


def _one(line: NDArray[np.float64], every: float, first: float) -> Spots:
    steps = np.diff(line, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    reached = np.concatenate([[0.0], np.cumsum(lengths)])
    at = np.arange(first * every, reached[-1] + 1e-9 * every, every)
    edge = np.clip(np.searchsorted(reached, at, side="right") - 1, 0, len(steps) - 1)
    share = (at - reached[edge]) / np.maximum(lengths[edge], 1e-12)
    directions = np.degrees(np.arctan2(steps[:, 1], steps[:, 0]))
    return Spots(line[edge] + share[:, None] * steps[edge], directions[edge])
