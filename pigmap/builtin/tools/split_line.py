"""Where the line lies that splits a paddock: across its longest side at a post, square to it or turned."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.geometry.sides import edges_of

NET_SHARE = 0.2
"""The end of a net catches within this share of a net: then whole nets are left on both sides. Own choice."""
APART_M = 0.5
"""The line keeps so far off the ends of the side [grid m]."""


class SplitLine:
    """A line across some ground, moved along its longest side.

    Parameters
    ----------
    ground
        What is split [grid m].
    bays_mm
        Bays of its nets; without them it slides freely.
    ground_per_grid
        Ground metres in one grid metre.
    """

    def __init__(self, ground: shapely.Polygon, bays_mm: Sequence[int], ground_per_grid: float = 1.0) -> None:
        edges = edges_of([ground])
        lengths = np.hypot(*(edges[:, 1] - edges[:, 0]).T)
        longest = int(np.argmax(np.round(lengths, 3)))
        self._ground = ground
        self._begin: NDArray[np.float64] = edges[longest, 0]
        self._length = float(lengths[longest])
        self._unit: NDArray[np.float64] = (edges[longest, 1] - edges[longest, 0]) / self._length
        self._posts = self._posts_m(bays_mm, ground_per_grid)
        self._net = sum(bays_mm) / 1000 / ground_per_grid
        self._per_grid = ground_per_grid
        self.along_m = self._at_post(self._length / 2)
        """How far along the longest side it begins [grid m]."""
        self.turned_deg = 0.0
        """How far it is turned from being square to that side, anticlockwise [degrees]."""

    def _posts_m(self, bays_mm: Sequence[int], ground_per_grid: float) -> NDArray[np.float64]:
        if not bays_mm:
            return np.empty(0)
        nets = int(self._length * ground_per_grid * 1000 // sum(bays_mm)) + 1
        return np.cumsum(np.tile(np.asarray(bays_mm, dtype=np.float64), nets)) / 1000 / ground_per_grid

    def follow(self, x_m: float, y_m: float, *, free: bool = False) -> None:
        """Have it go through a point, drawn to the nearest post [grid m]."""
        turned = self._direction
        way = np.array([x_m, y_m]) - self._begin
        across = float(self._unit[0] * turned[1] - self._unit[1] * turned[0])
        along = float((way[0] * turned[1] - way[1] * turned[0]) / across)
        self.along_m = self._held(along) if free else self._at_post(along)

    def step(self, by: int) -> None:
        """Move it by posts to the east, or to the north along a side that runs so; by metres where it knows none."""
        east, north = self._unit.tolist()
        by = by if (east if abs(east) >= abs(north) else north) > 0 else -by
        if not len(self._posts):
            self.along_m = self._held(self.along_m + by)
            return
        now = int(np.abs(self._posts - self.along_m).argmin())
        self.along_m = self._held(float(self._posts[min(max(now + by, 0), len(self._posts) - 1)]))

    def turn(self, by_deg: float) -> None:
        """Turn it about where it begins."""
        self.turned_deg = min(max(self.turned_deg + by_deg, -60.0), 60.0)

    @property
    def line(self) -> shapely.LineString:
        """It, across all of the ground [grid m]; where the ground is left and met again, all pieces as one."""
        at, far = self._begin + self._unit * self.along_m, self._ground.length
        ends = np.array([at - self._direction * far, at + self._direction * far])
        cut = shapely.intersection(shapely.LineString(ends), self._ground)
        points = shapely.get_coordinates(cut)
        return shapely.LineString(points[[0, -1]] if len(points) >= 2 else ends)

    @property
    def net_m(self) -> float:
        """How much net it takes [m of ground]."""
        cut = shapely.intersection(self.line, self._ground)
        return float(cut.length) * self._per_grid

    @property
    def _direction(self) -> NDArray[np.float64]:
        """Across, inwards: the ground lies to the left of its sides."""
        turned = math.radians(self.turned_deg)
        left = np.array([-self._unit[1], self._unit[0]])
        return left * math.cos(turned) - self._unit * math.sin(turned)

    def _at_post(self, along: float) -> float:
        if not len(self._posts):
            return self._held(along)
        end = round(along / self._net) * self._net
        if 0.0 < end < self._length - APART_M and abs(end - along) <= NET_SHARE * self._net:
            return end
        return self._held(float(self._posts[np.abs(self._posts - along).argmin()]))

    def _held(self, along: float) -> float:
        return min(max(along, APART_M), self._length - APART_M)
