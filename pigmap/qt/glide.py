"""The map glides to where a key or a notch of the wheel brings it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QPointF

from pigmap.qt import motion
from pigmap.qt.motion import GLIDE_MS, Motion

if TYPE_CHECKING:
    from pigmap.qt.ground_view import GroundView


FINEST_M, COARSEST_M = 0.01, 50.0
"""Grid metres in a device pixel between which the map zooms."""


class Spot(NamedTuple):
    """The middle of a view and its scale, in grid metres and grid metres of a device pixel."""

    x_m: float
    y_m: float
    metres_per_pixel: float


class Glide:
    """Moves a map step by step; a step taken while it still moves adds to where it goes.

    What is seen is where the map is: a press on the way stops it, so that it hits what is under the pointer.
    """

    def __init__(self, canvas: GroundView) -> None:
        self._map = canvas
        self._motion = Motion(canvas, self._step)
        self._from = self._goal = self._last = Spot(0.0, 0.0, 1.0)
        self._whole = False

    @property
    def goal(self) -> Spot:
        """Where the map goes; where it is while it rests."""
        return self._goal if self._motion.running else self._here()

    def pan_by(self, dx: int, dy: int) -> None:
        """Move the view by whole device pixels, to the east and to the south."""
        if not motion.is_wanted():
            self._map.pan_by(dx, dy)
            return
        goal = self.goal
        step = goal.metres_per_pixel
        self._begin(Spot(goal.x_m + dx * step, goal.y_m - dy * step, step))

    def zoom_by(self, factor: float, at: QPointF | None = None) -> None:
        """Show ground larger by a factor; a spot of the widget, or its middle, stays where it is."""
        if not motion.is_wanted():
            self._map.zoom_by(factor, at)
            return
        goal = self.goal
        scale = held_scale(goal.metres_per_pixel / factor)
        if at is None:
            self._begin(goal._replace(metres_per_pixel=scale))
            return
        view = self._map.view
        x, y = view.to_ground(at.x(), at.y())
        unit = scale * self._map.picture.density
        self._begin(Spot(x - (at.x() - view.width / 2) * unit, y + (at.y() - view.height / 2) * unit, scale))

    def show_whole(self) -> None:
        """Show all of the farm; once there it stays shown whole in a window of another size."""
        if not motion.is_wanted():
            self._map.show_whole()
            return
        view = self._map.view_of(self._map.whole)
        self._begin(Spot(view.centre_x_m, view.centre_y_m, view.metres_per_unit / self._map.devicePixelRatioF()))
        self._whole = True

    def stop(self) -> None:
        """Have the map stay where it is; it is painted there."""
        self._motion.stop()
        self._map.rest()

    def _here(self) -> Spot:
        view = self._map.view
        return Spot(view.centre_x_m, view.centre_y_m, self._map.picture.frame.metres_per_pixel)

    def _begin(self, goal: Spot) -> None:
        self._from = self._last = self._here()
        self._goal, self._whole = goal, False
        self._motion.begin(GLIDE_MS)

    def _step(self, share: float) -> None:
        if self._here() != self._last:  # someone else moved the map
            self.stop()
            return
        if share >= 1.0 and self._whole:
            self._map.show_whole()
        elif self._from.metres_per_pixel == self._goal.metres_per_pixel:
            self._pan_to(share)
        elif share > 0.0:
            self._zoom_to(share)
        self._last = self._here()

    def _zoom_to(self, share: float) -> None:
        """Look through another scale; one that the map only passes through is not painted anew."""
        begin, goal = self._from, self._goal
        if share >= 1.0:
            self._map.aim(*goal)
            return
        scale = begin.metres_per_pixel * (goal.metres_per_pixel / begin.metres_per_pixel) ** share
        way = (scale - begin.metres_per_pixel) / (goal.metres_per_pixel - begin.metres_per_pixel)
        self._map.aim(*_between(begin, goal, way), scale, passing=True)

    def _pan_to(self, share: float) -> None:
        """Move the picture that is there by whole pixels: nothing is painted anew."""
        here, scale = self._here(), self._goal.metres_per_pixel
        x, y = _between(self._from, self._goal, share)
        by = round((x - here.x_m) / scale), round((here.y_m - y) / scale)
        if by != (0, 0):
            self._map.pan_by(*by)


def held_scale(metres_per_pixel: float) -> float:
    """Return the nearest scale that the map can have."""
    return min(max(metres_per_pixel, FINEST_M), COARSEST_M)


def _between(begin: Spot, goal: Spot, share: float) -> tuple[float, float]:
    """Return a point on the way from one middle to another."""
    return begin.x_m + (goal.x_m - begin.x_m) * share, begin.y_m + (goal.y_m - begin.y_m) * share
