"""Where the invented farm lies: ground metres from its south-west corner, and how they become grid metres."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import TypeVar

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.projection import projection_for
from pigmap.records import Projection
from pigmap.records.frozen import dataclass

Shape = TypeVar("Shape", bound=BaseGeometry)

# Open moor, where there is no farm: nobody's land is drawn over.
ORIGIN_EAST_M, ORIGIN_NORTH_M = 430_600.0, 5_612_200.0
EPSG = 32630

WEST_M, SOUTH_M, EAST_M, NORTH_M = -150.0, -20.0, 1280.0, 780.0
"""What the aerial image shows, in ground metres from the farm's corner."""


def projection() -> Projection:
    """Return the farm's flat coordinates: UTM zone 30 north."""
    bounds = ORIGIN_EAST_M, ORIGIN_NORTH_M, ORIGIN_EAST_M + EAST_M, ORIGIN_NORTH_M + NORTH_M
    return projection_for(f"EPSG:{EPSG}", bounds)


@dataclass(frozen=True, slots=True)
class Site:
    """The farm's corner in its projection; everything on the farm is drawn in ground metres from it."""

    projection: Projection

    def grid(self, shape: Shape) -> Shape:
        """Return a shape in grid metres that was drawn in ground metres."""
        scale = 1 / self.projection.ground_per_grid
        return shapely.transform(
            shapely.orient_polygons(shape), lambda points: points * scale + np.array([ORIGIN_EAST_M, ORIGIN_NORTH_M])
        )

    def grid_point(self, east: float, north: float) -> tuple[float, float]:
        """Return a point in grid metres that was given in ground metres."""
        scale = 1 / self.projection.ground_per_grid
        return ORIGIN_EAST_M + east * scale, ORIGIN_NORTH_M + north * scale


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner from which something is measured out along a direction, in ground metres.

    Examples
    --------
    >>> Corner(10.0, 20.0, 90.0).at(5.0, 0.0)
    (10.0, 25.0)
    """

    east: float
    north: float
    turned_deg: float
    """Direction of "along", anticlockwise from east."""

    def at(self, along: float, across: float) -> tuple[float, float]:
        """Return the point so far along and so far to the left of the direction."""
        turned = math.radians(self.turned_deg)
        cos, sin = math.cos(turned), math.sin(turned)
        return self.east + along * cos - across * sin, self.north + along * sin + across * cos

    def points(self, measured: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
        """Return points measured along and across."""
        return [self.at(along, across) for along, across in measured]

    def area(self, measured: Iterable[tuple[float, float]]) -> shapely.Polygon:
        """Return the outline through corners measured along and across."""
        return shapely.Polygon(self.points(measured))
