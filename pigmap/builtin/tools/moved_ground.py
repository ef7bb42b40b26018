"""Ground that is put where it really stands: the whole of it, or one of its corners, by hand or by steps."""

from __future__ import annotations

from typing import cast

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity

from pigmap.builtin.tools.reshape import Handle, Handles, handles, reshaped

KEPT_STEPS = 200


def _side_lengths(found: Handles) -> NDArray[np.float64]:
    """Return the length of the side that each of the handles of an outline without holes begins or halves [grid m]."""
    corners = found.points[found.corner]
    lengths: NDArray[np.float64] = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T)
    return np.concatenate([lengths, lengths])


class MovedGround:
    """An outline as it was and as it is by now; every step can be taken back.

    Parameters
    ----------
    before
        The outline as it was [grid m].
    """

    def __init__(self, before: shapely.Polygon) -> None:
        self.before = before
        self.now = before
        self.corner: int | None = None
        """The corner that keys move, None for the whole."""
        self._steps: list[shapely.Polygon] = []

    @property
    def changed(self) -> bool:
        """Whether it is elsewhere than before."""
        return not shapely.equals_exact(self.now, self.before, tolerance=1e-6)

    def handle_at(self, east_m: float, north_m: float, reach_m: float, least_side_m: float) -> Handle | None:
        """Return the corner within reach of a place, or the middle of a side, if that is long enough to have one."""
        found = handles(self.now)
        off = np.hypot(found.points[:, 0] - east_m, found.points[:, 1] - north_m)
        off[~found.corner & (_side_lengths(found) < least_side_m)] = np.inf
        nearest = int(np.argmin(off))
        return found.at(nearest) if off[nearest] <= reach_m else None

    def corner_place(self) -> tuple[float, float] | None:
        """Return where the chosen corner is."""
        corners = shapely.get_coordinates(self.now.exterior)[:-1]
        if self.corner is None or self.corner >= len(corners):
            return None
        east, north = corners[self.corner].tolist()
        return east, north

    def next_corner(self, by: int = 1) -> None:
        """Choose the next corner, and after the last one the whole again."""
        count = len(shapely.get_coordinates(self.now.exterior)) - 1
        at = ((-1 if self.corner is None else self.corner) + 1 + by) % (count + 1)
        self.corner = at - 1 if at else None

    # Steps

    def set(self, outline: shapely.Polygon) -> None:
        """Take an outline; the one until now can be taken back."""
        if not shapely.equals_exact(outline, self.now, tolerance=1e-9):
            self._steps = [*self._steps, self.now][-KEPT_STEPS:]
            self.now = outline

    def back(self) -> bool:
        """Take the last step back; whether there was one."""
        if self._steps:
            self.now = self._steps.pop()
            return True
        return False

    def drop(self) -> None:
        """Put it where it was before."""
        self.set(self.before)
        self._steps = []
        self.corner = None

    def shifted(self, east_m: float, north_m: float) -> shapely.Polygon:
        """Return it shifted [grid m]: the chosen corner, or the whole."""
        place = self.corner_place()
        if place is None or self.corner is None:
            return affinity.translate(self.now, east_m, north_m)
        return self.dragged(Handle(0, 0, self.corner, True), (place[0] + east_m, place[1] + north_m))

    def dragged(self, handle: Handle, to: tuple[float, float]) -> shapely.Polygon:
        """Return it with a corner elsewhere, or a new one pulled out of the middle of a side."""
        return cast(shapely.Polygon, reshaped(self.now, handle, to))

    def turned(self, by_deg: float) -> shapely.Polygon:
        """Return it turned about its middle, anticlockwise [degrees]."""
        return affinity.rotate(self.now, by_deg, origin="centroid")
