"""Show one place on the map, for a form that asks where something was: clicked, typed, or the middle of the map."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from pigmap.builtin.tools.corners import Corners
from pigmap.qt.tool import Host, IdleTool, Pointer
from pigmap.text import Text


class Spot(IdleTool):
    """The first place that is shown is handed on, and the pointer goes back to picking; Esc leaves it."""

    name = "spot"
    cursor = Qt.CursorShape.CrossCursor

    def __init__(self) -> None:
        self._corners = Corners("Latitude and longitude, as a phone shows them")

    def begin(self, host: Host) -> None:
        """Start, and say what is asked."""
        super().begin(host)
        self._corners.clear()
        self._corners.begin(host, self._shown)
        host.stage.notice(
            Text("Click where it was. Enter takes the middle of the map, T types the place, Esc leaves it.")
        )

    def end(self) -> None:
        """Leave the map."""
        self._corners.end()
        super().end()

    def release(self, pointer: Pointer) -> None:
        """Take the place of a click."""
        self._corners.add(pointer.x_m, pointer.y_m)
        self._shown()

    def key(self, event: QKeyEvent) -> bool:
        """Take the middle of the map with Enter; type with T or a figure."""
        return self._corners.key(event)

    def _shown(self) -> None:
        if self._corners.points:
            place = self._corners.points[0]
            self._corners.clear()
            stage = self.host.stage
            stage.take_up("pick")
            stage.spotted.emit(*place)


tool = Spot
