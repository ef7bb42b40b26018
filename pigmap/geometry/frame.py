"""The frame of cells over a field: where a cell lies, and which cell a point falls in."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from pigmap.records.frozen import dataclass


@dataclass(frozen=True, slots=True)
class CellFrame:
    """A grid of square cells, turned to the field's direction.

    Column 0 and row 0 touch the origin; columns run in the direction `turned_deg`, rows at a right angle to the
    left of it.

    Parameters
    ----------
    origin_x_m, origin_y_m
        Outer corner of cell (row 0, column 0), in the farm's projection [m].
    turned_deg
        Direction of the columns, anticlockwise from east [degrees].
    cell_m
        Side of a cell [m].
    rows, columns
        Size of the grid.
    """

    origin_x_m: float
    origin_y_m: float
    turned_deg: float
    cell_m: float
    rows: int
    columns: int

    @property
    def axes(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Unit vectors along columns and along rows, as (east, north)."""
        turned = math.radians(self.turned_deg)
        return (math.cos(turned), math.sin(turned)), (-math.sin(turned), math.cos(turned))

    def to_cells(self, points: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return points (n, 2) in grid metres as fractional (column, row), (n, 2); cell (0, 0) spans 0 to 1."""
        (ux, uy), (vx, vy) = self.axes
        shifted = np.asarray(points, dtype=np.float64) - (self.origin_x_m, self.origin_y_m)
        turned: NDArray[np.float64] = shifted @ np.array([[ux, vx], [uy, vy]])
        return turned / self.cell_m

    def to_metres(self, cells: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return fractional (column, row) pairs (n, 2) as points in grid metres, (n, 2)."""
        turned: NDArray[np.float64] = np.asarray(cells, dtype=np.float64) * self.cell_m @ np.array(self.axes)
        placed: NDArray[np.float64] = turned + np.array([self.origin_x_m, self.origin_y_m])
        return placed
