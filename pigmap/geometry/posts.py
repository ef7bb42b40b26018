"""Where the posts of nets stand along a run."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

SAME_POST_M = 0.05
"""A post nearer to a corner than this is the corner's [grid m]. Own choice."""


def posts(
    line: NDArray[np.float64] | shapely.LineString, bays_mm: Sequence[int], ground_per_grid: float = 1.0
) -> NDArray[np.float64]:
    """Return the posts along a run, (n, 2), from its begin to its end [grid m].

    Nets follow each other from the begin of the run. A post stands at each end and at each corner: where no bay
    ends at a corner, it is the stake that the corner needs.

    Parameters
    ----------
    line
        The run, (k, 2) or a line [grid m].
    bays_mm
        Bays of one net, repeated for the next [mm of ground].
    ground_per_grid
        Ground metres in one grid metre.

    Examples
    --------
    >>> posts(np.array([[0.0, 0.0], [10.0, 0.0]]), (4_000, 4_000)).tolist()
    [[0.0, 0.0], [4.0, 0.0], [8.0, 0.0], [10.0, 0.0]]
    """
    points = np.asarray(shapely.get_coordinates(line) if isinstance(line, shapely.LineString) else line, dtype=float)
    lengths = np.hypot(*np.diff(points, axis=0).T)
    points = points[np.concatenate([[True], lengths > 0.0])]
    corners = np.concatenate([[0.0], np.cumsum(lengths[lengths > 0.0])])
    places = _places(corners, _bay_ends(float(corners[-1]), bays_mm, ground_per_grid))
    return np.stack([np.interp(places, corners, points[:, 0]), np.interp(places, corners, points[:, 1])], axis=1)


def _bay_ends(length_m: float, bays_mm: Sequence[int], ground_per_grid: float) -> NDArray[np.float64]:
    """Return how far along a run each bay ends, short of its end [grid m]."""
    bays = np.asarray(bays_mm, dtype=np.int64)
    nets = int(length_m * ground_per_grid * 1000 // bays.sum()) + 1
    ends = np.cumsum(np.tile(bays, nets)) / 1000 / ground_per_grid
    short: NDArray[np.float64] = ends[ends < length_m]
    return short


def _places(corners: NDArray[np.float64], ends: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return corners and ends of bays in order; ends of bays at a corner are the corner's."""
    after = np.searchsorted(corners, ends).clip(1, len(corners) - 1)
    apart = np.minimum(np.abs(ends - corners[after - 1]), np.abs(corners[after] - ends))
    return np.sort(np.concatenate([corners, ends[apart > SAME_POST_M]]))
