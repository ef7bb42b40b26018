"""The view: which ground lies where on a screen or a page."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.records.frozen import dataclass

PIXEL_MM = 0.21
"""What a pixel of a sign is on paper: signs there are drawn in this proportion."""


@dataclass(frozen=True, slots=True)
class View:
    """A window on the map, north up.

    Screen lengths are in units of the paint device: pixels that do not depend on the screen's density for a window,
    millimetres for a page. Signs have a size for each medium; `paper` says which one counts.
    """

    centre_x_m: float
    centre_y_m: float
    metres_per_unit: float
    """Grid metres in one unit of the device."""
    width: float
    height: float
    paper: bool = False

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Ground in view: west, south, east, north [m]."""
        half_w = self.width / 2 * self.metres_per_unit
        half_h = self.height / 2 * self.metres_per_unit
        return (self.centre_x_m - half_w, self.centre_y_m - half_h, self.centre_x_m + half_w, self.centre_y_m + half_h)

    def to_device(self, points: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return points (n, 2) in grid metres as device units from the upper left, (n, 2)."""
        shifted = np.asarray(points, dtype=np.float64) - (self.centre_x_m, self.centre_y_m)
        return shifted * (1 / self.metres_per_unit, -1 / self.metres_per_unit) + (self.width / 2, self.height / 2)

    def to_ground(self, x: float, y: float) -> tuple[float, float]:
        """Return the ground under a spot of the device, east and north [m]."""
        return (
            self.centre_x_m + (x - self.width / 2) * self.metres_per_unit,
            self.centre_y_m - (y - self.height / 2) * self.metres_per_unit,
        )

    @property
    def pixel_m(self) -> float:
        """Grid metres in a pixel at scale 1; on paper in the 0.21 mm that stand for one."""
        return self.metres_per_unit * (PIXEL_MM if self.paper else 1.0)

    def size(self, px: float, mm: float) -> float:
        """Return the size of a sign in device units: its millimetres on paper, its pixels on a screen."""
        return mm if self.paper else px

    @staticmethod
    def around(
        bounds: tuple[float, float, float, float],
        width: float,
        height: float,
        *,
        margin: float = 0.06,
        top: float = 0.0,
    ) -> View:
        """Return the view of a screen in which these bounds fill all but a share of `margin` on each side.

        At the upper edge at least `top` is kept free, in units of the device, for what lies over the map there.
        """
        west, south, east, north = bounds
        above = max(margin * height, min(top, height / 6))
        room = height * (1 - margin) - above
        scale = max((east - west) / (width * (1 - 2 * margin)), (north - south) / room, 1e-3)
        up = (above - margin * height) / 2 * scale
        return View((west + east) / 2, (south + north) / 2 + up, scale, width, height)
