"""The outline of a paddock whose corners are set one by one: an L, or crooked round trees."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.geometry.rectangle import Rectangle
from pigmap.records.frozen import dataclass

LEAST_M2 = 1.0
"""What closes less ground is no paddock [grid m²]."""

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class FreeOutline:
    """A paddock of any corners.

    Parameters
    ----------
    points
        Its corners in the order in which they are walked, the first not said again [grid m].
    ground_per_grid
        Ground metres in one grid metre.

    Examples
    --------
    >>> FreeOutline(((0.0, 0.0), (0.0, 20.0), (30.0, 0.0))).corners.tolist()
    [[0.0, 0.0], [30.0, 0.0], [0.0, 20.0]]
    """

    points: tuple[Point, ...]
    ground_per_grid: float = 1.0

    @property
    def is_sound(self) -> bool:
        """Whether it closes ground, and no side crosses another."""
        if len(self.points) < 3:
            return False
        return bool(self.outline.is_valid and self.outline.area >= LEAST_M2)

    @property
    def clockwise(self) -> bool:
        """Whether it was walked clockwise."""
        return _twice_area(self.points) < 0.0

    @property
    def corners(self) -> NDArray[np.float64]:
        """Its corners, anticlockwise from the first, (n, 2) [grid m]."""
        points = np.array(self.points, dtype=np.float64)
        return np.concatenate([points[:1], points[:0:-1]]) if self.clockwise else points

    @property
    def outline(self) -> shapely.Polygon:
        """The ground it closes [grid m]."""
        return _ground(self.points)

    @property
    def area_m2(self) -> float:
        """Ground it closes [m² of ground]."""
        return float(self.outline.area) * self.ground_per_grid**2

    @property
    def round_m(self) -> float:
        """How long its sides are together [m of ground]."""
        return float(self.outline.length) * self.ground_per_grid

    @property
    def centre(self) -> Point:
        """A point inside: the middle, where that lies inside [grid m]."""
        outline = self.outline
        inside = outline.centroid if outline.contains(outline.centroid) else outline.representative_point()
        return inside.x, inside.y

    @property
    def turned_deg(self) -> float:
        """Direction of its first side, anticlockwise from east [degrees]."""
        (x, y), (to_x, to_y) = self.points[:2]
        return math.degrees(math.atan2(to_y - y, to_x - x))


def _twice_area(points: tuple[Point, ...]) -> float:
    """Return twice the area that corners go round, less than nothing where they go clockwise."""
    ahead = (*points[1:], *points[:1])
    return sum(x * to_y - to_x * y for (x, y), (to_x, to_y) in zip(points, ahead, strict=True))


@lru_cache(maxsize=16)
def _ground(points: tuple[Point, ...]) -> shapely.Polygon:
    """Return what corners close; those asked for last are kept, since one place is asked for many times."""
    return shapely.Polygon(points if _twice_area(points) >= 0.0 else (points[0], *points[:0:-1]))


Placed: TypeAlias = Rectangle | FreeOutline
"""What a paddock is placed as: a rectangle of whole nets, or corners set one by one."""
