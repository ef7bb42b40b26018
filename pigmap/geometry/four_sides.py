"""Four sides of told lengths, found again in an outline."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.geometry.sides import FLUSH_M

SIDES = 4


def corners_of_four(outline: shapely.Polygon) -> NDArray[np.float64] | None:
    """Return the corners of an outline anticlockwise from its first, (4, 2) [grid m]; None where it has not four."""
    corners: NDArray[np.float64] = shapely.get_coordinates(shapely.orient_polygons(outline).exterior)[:-1]
    return corners if len(corners) == SIDES and not outline.interiors else None


def lengths_m(corners: NDArray[np.float64], ground_per_grid: float = 1.0) -> NDArray[np.float64]:
    """Return how long the side from each corner is [m of ground]."""
    found: NDArray[np.float64] = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T) * ground_per_grid
    return found


def first_of_told(outline: shapely.Polygon, told_mm: Sequence[int], ground_per_grid: float = 1.0) -> int | None:
    """Return which of four told lengths the side from the first corner has; None where they are not those of a ground.

    Parameters
    ----------
    outline
        The ground [grid m].
    told_mm
        Lengths of its sides, anticlockwise from one of them [mm of ground]; the play of a net more or less is one.
    ground_per_grid
        Ground metres in one grid metre.

    Examples
    --------
    >>> ground = shapely.Polygon([(0, 0), (75, 0), (75, 50), (0, 50)])
    >>> first_of_told(ground, (75_000, 50_000, 75_000, 50_000))
    0
    >>> first_of_told(ground, (50_000, 75_000, 50_000, 75_000))
    1
    >>> first_of_told(ground, (50_000, 70_000, 50_000, 70_000)) is None
    True
    """
    corners = corners_of_four(outline) if len(told_mm) == SIDES else None
    if corners is None:
        return None
    lengths, told = lengths_m(corners, ground_per_grid), np.array(told_mm) / 1000
    fitting = (first for first in range(SIDES) if np.all(np.abs(lengths - np.roll(told, -first)) <= FLUSH_M))
    return next(fitting, None)
