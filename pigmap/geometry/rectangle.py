"""The rectangle of a paddock: a corner, a direction and two sides in whole millimetres of net."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.records.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A paddock of four straight sides.

    The long sides run from the corner in the direction `turned_deg`, the wide sides to the left of it, so the
    corners go round anticlockwise. 'Long' and 'wide' name the two directions; either may be the longer one.

    Parameters
    ----------
    corner_x_m, corner_y_m
        First corner, in the farm's projection [grid m].
    turned_deg
        Direction of the long sides, anticlockwise from east [degrees].
    long_mm, wide_mm
        Sides as the nets measure them on the ground [mm].
    ground_per_grid
        Ground metres in one grid metre.

    Examples
    --------
    >>> Rectangle(0.0, 0.0, 0.0, 50_000, 25_000).corners.tolist()
    [[0.0, 0.0], [50.0, 0.0], [50.0, 25.0], [0.0, 25.0]]
    """

    corner_x_m: float
    corner_y_m: float
    turned_deg: float
    long_mm: int
    wide_mm: int
    ground_per_grid: float = 1.0

    @staticmethod
    def of_nets(
        corner: tuple[float, float],
        turned_deg: float,
        nets: tuple[int, int],
        net_mm: int,
        ground_per_grid: float = 1.0,
    ) -> Rectangle:
        """Return the rectangle of whole nets along and across a direction, from a corner [grid m]."""
        return Rectangle(*corner, turned_deg, nets[0] * net_mm, nets[1] * net_mm, ground_per_grid)

    @property
    def axes(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Unit vectors along the long and along the wide sides, as (east, north)."""
        turned = math.radians(self.turned_deg)
        cosine, sine = math.cos(turned), math.sin(turned)
        return (cosine, sine), (-sine, cosine)

    @property
    def sides_m(self) -> tuple[float, float]:
        """Lengths of a long and of a wide side [grid m]."""
        return self.long_mm / 1000 / self.ground_per_grid, self.wide_mm / 1000 / self.ground_per_grid

    @property
    def corners(self) -> NDArray[np.float64]:
        """The four corners, anticlockwise from the first, (4, 2) [grid m]."""
        (ux, uy), (vx, vy) = self.axes
        long_m, wide_m = self.sides_m
        x, y = self.corner_x_m, self.corner_y_m
        lx, ly, wx, wy = long_m * ux, long_m * uy, wide_m * vx, wide_m * vy
        return np.array([[x, y], [x + lx, y + ly], [x + lx + wx, y + ly + wy], [x + wx, y + wy]])

    @property
    def centre(self) -> tuple[float, float]:
        """The middle [grid m]."""
        (ux, uy), (vx, vy) = self.axes
        half_long, half_wide = self.sides_m[0] / 2, self.sides_m[1] / 2
        return (
            self.corner_x_m + half_long * ux + half_wide * vx,
            self.corner_y_m + half_long * uy + half_wide * vy,
        )

    @property
    def outline(self) -> shapely.Polygon:
        """The ground it closes [grid m]."""
        return shapely.Polygon(self.corners)

    @property
    def area_m2(self) -> float:
        """Ground it closes [m² of ground]."""
        return self.long_mm * self.wide_mm / 1e6

    @property
    def round_m(self) -> float:
        """How long its sides are together [m of ground]."""
        return 2 * (self.long_mm + self.wide_mm) / 1000

    def centred_at(self, x_m: float, y_m: float) -> Rectangle:
        """Return the same rectangle with its middle at a point [grid m]."""
        x, y = self.centre
        return replace(self, corner_x_m=self.corner_x_m + x_m - x, corner_y_m=self.corner_y_m + y_m - y)

    def shifted(self, along_mm: float = 0.0, across_mm: float = 0.0) -> Rectangle:
        """Return the rectangle moved along its long and its wide sides by ground lengths [mm]."""
        (ux, uy), (vx, vy) = self.axes
        along, across = along_mm / 1000 / self.ground_per_grid, across_mm / 1000 / self.ground_per_grid
        return replace(
            self,
            corner_x_m=self.corner_x_m + along * ux + across * vx,
            corner_y_m=self.corner_y_m + along * uy + across * vy,
        )

    def turned_to(self, turned_deg: float) -> Rectangle:
        """Return the rectangle turned about its middle to another direction [degrees]."""
        return replace(self, turned_deg=turned_deg).centred_at(*self.centre)
