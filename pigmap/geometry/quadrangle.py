"""A rectangle found again in an outline of four corners."""

from __future__ import annotations

import math

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.geometry.rectangle import Rectangle
from pigmap.geometry.sides import FLUSH_M


def rectangle_in(
    outline: shapely.Polygon, net_mm: int, nets_long: int | None = None, ground_per_grid: float = 1.0
) -> Rectangle | None:
    """Return the rectangle of whole nets that an outline is, within the play of a net; None where it is none.

    Parameters
    ----------
    outline
        Some ground [grid m].
    net_mm
        Length of a net [mm].
    nets_long
        Nets on its long side; if not given, the longer side is the long one.
    ground_per_grid
        Ground metres in one grid metre.

    Examples
    --------
    >>> found = rectangle_in(shapely.box(0, 0, 50, 100), 50_000, 1)
    >>> found.turned_deg, found.long_mm, found.wide_mm
    (0.0, 50000, 100000)
    """
    corners = shapely.get_coordinates(shapely.orient_polygons(outline).exterior)[:-1]
    if len(corners) != 4 or outline.interiors:
        return None
    made = [_from(np.roll(corners, -first, axis=0), net_mm, ground_per_grid) for first in range(4)]
    fitting = [each for each in made if each is not None and _is_same(each, outline)]
    wanted = [each for each in fitting if nets_long is None or each.long_mm == nets_long * net_mm] or fitting
    upright = [each for each in wanted if -1e-6 <= each.turned_deg % 360.0 < 180.0 - 1e-6] or wanted
    return max(upright, key=lambda each: each.long_mm, default=None) if nets_long is None else next(iter(upright), None)


def _from(corners: NDArray[np.float64], net_mm: int, ground_per_grid: float) -> Rectangle | None:
    way, up = corners[1] - corners[0], corners[3] - corners[0]
    nets = [round(float(np.hypot(*side)) * ground_per_grid * 1000 / net_mm) for side in (way, up)]
    if min(nets) < 1:
        return None
    turned = math.degrees(math.atan2(float(way[1]), float(way[0])))
    x, y = corners[0].tolist()
    return Rectangle.of_nets((x, y), turned, (nets[0], nets[1]), net_mm, ground_per_grid)


def _is_same(rectangle: Rectangle, outline: shapely.Polygon) -> bool:
    return bool(shapely.hausdorff_distance(rectangle.outline.exterior, outline.exterior) <= FLUSH_M)
