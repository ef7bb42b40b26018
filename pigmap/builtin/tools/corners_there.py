"""Corners that are on the map already and that a click near them takes: those of standing paddocks, then of fields."""

from __future__ import annotations

from datetime import date

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.drawing.layer import Layer, Marks, Size
from pigmap.drawing.tokens import CASING, MAP_PLAN
from pigmap.qt.tool import Pointer
from pigmap.records import Farm, lasting_on

REACH_PX = 16.0
"""A click so near to the first corner closes; one so near to a corner of a standing paddock is that corner."""
FIELD_REACH_PX = 10.0
"""The same for corners of fields, where nets often stand a little inside."""


def within_reach(corner: tuple[float, float], pointer: Pointer) -> bool:
    """Whether the pointer is on a corner."""
    off = max(abs(pointer.x_m - corner[0]), abs(pointer.y_m - corner[1]))
    return off <= REACH_PX * pointer.metres_per_pixel


class CornersThere:
    """Finds the corner under the pointer; where they are is worked out once for a farm."""

    def __init__(self) -> None:
        self._of: tuple[Farm | None, date] = (None, date.min)
        self._paddocks: NDArray[np.float64] = np.empty((0, 2))
        self._fields: NDArray[np.float64] = np.empty((0, 2))

    def near(self, farm: Farm, today: date, pointer: Pointer) -> tuple[float, float] | None:
        """Return the corner that a click would take; None where none is near."""
        if self._of[0] is not farm or self._of[1] != today:
            there = [each.stay.ground for each in lasting_on(farm, today).values() if each.covers(today)]
            self._paddocks = shapely.get_coordinates(there)
            self._fields = shapely.get_coordinates([field.outline for field in farm.fields.values()])
            self._of = farm, today
        pixel = pointer.metres_per_pixel
        return _nearest(self._paddocks, pointer, REACH_PX * pixel) or _nearest(
            self._fields, pointer, FIELD_REACH_PX * pixel
        )


def _nearest(corners: NDArray[np.float64], pointer: Pointer, reach: float) -> tuple[float, float] | None:
    if not len(corners):
        return None
    off = np.hypot(corners[:, 0] - pointer.x_m, corners[:, 1] - pointer.y_m)
    nearest = int(np.argmin(off))
    return (float(corners[nearest, 0]), float(corners[nearest, 1])) if off[nearest] <= reach else None


def lit(corner: tuple[float, float] | None) -> tuple[Layer, ...]:
    """Return the ring round a corner that a click would take; nothing for none."""
    if corner is None:
        return ()
    return (Marks(np.array([corner]), "ring", Size(24.0, 4.0), MAP_PLAN, CASING, Size(2.0, 0.4)),)
