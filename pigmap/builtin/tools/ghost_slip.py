"""A ghost that is drawn to a side comes to rest there within a moment; what a click sets is there at once."""

from __future__ import annotations

from collections.abc import Sequence

from pigmap.drawing.layer import Layer
from pigmap.qt import motion
from pigmap.qt.motion import SNAP_MS, Motion
from pigmap.qt.tool import Host, Pointer

LEAST_PX = 2.0
"""A smaller step is not worth a motion."""

Metres = tuple[float, float]


class GhostSlip:
    """Carries the picture of a ghost over the map, a little behind where it is while it comes to rest."""

    def __init__(self, host: Host) -> None:
        self._host = host
        self._motion = Motion(host.widget, self._step)
        self._layers: Sequence[Layer] = ()
        self._by: Metres = (0.0, 0.0)
        self._pull: Metres | None = None
        """How far it is drawn away from the pointer, east and north [m]; None while it follows none."""
        self._follows = False
        self._begun: Metres = (0.0, 0.0)
        self._behind: Metres = (0.0, 0.0)

    def follow(self, middle: Metres, pointer: Pointer) -> None:
        """Take in where the ghost is about to be, and for which pointer [grid m]."""
        before, pull = self._pull, (middle[0] - pointer.x_m, middle[1] - pointer.y_m)
        self._pull, self._follows = pull, True
        if before is None or not self._layers:
            return
        step = before[0] - pull[0], before[1] - pull[1]
        if abs(step[0]) + abs(step[1]) > LEAST_PX * pointer.metres_per_pixel and motion.is_wanted():
            self._begun = self._behind = step[0] + self._behind[0], step[1] + self._behind[1]
            self._motion.begin(SNAP_MS)

    def carry(self, layers: Sequence[Layer], by: Metres) -> None:
        """Show the ghost, moved by east and north [m]; one that looks otherwise, or follows no pointer, at once."""
        if by != self._by and not self._follows:
            self._pull = None
        if tuple(layers) != tuple(self._layers) or self._pull is None:
            self._motion.stop()
            self._behind = (0.0, 0.0)
        self._layers, self._by, self._follows = layers, by, False
        self._show()

    def close(self) -> None:
        """Move no more: the ghost is put away for good."""
        self._motion.stop()
        self._motion.deleteLater()

    def _step(self, share: float) -> None:
        self._behind = self._begun[0] * (1.0 - share), self._begun[1] * (1.0 - share)
        if share > 0.0 and self._layers:
            self._show()

    def _show(self) -> None:
        self._host.carry(self._layers, (self._by[0] + self._behind[0], self._by[1] + self._behind[1]))
