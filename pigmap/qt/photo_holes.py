"""A quiet hatch where an image cannot be read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol, cast

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QBrush, QColor, QPainter

from pigmap.imagery.pyramid import Bounds, Spot
from pigmap.qt.pixel_frame import PixelFrame
from pigmap.qt.tiles import TileKey

GROUND = QColor(128, 128, 128, 70)
LINES = QColor(96, 96, 96, 170)
"""Grey on any photo, light or dark: neither a colour of the ground nor of what stands on it."""


class Holed(Protocol):
    """A source of tiles that knows which ground of them it could not read."""

    @property
    def bounds(self) -> Bounds:
        """Ground it covers: west, south, east, north [m]."""
        ...

    def unread(self, spot: Spot) -> tuple[Bounds, ...]:
        """Return the ground of a tile that could not be read [m]."""
        ...


def hatch_unread(painter: QPainter, source: object, keys: Sequence[TileKey], frame: PixelFrame, rect: QRect) -> None:
    """Hatch what could not be read of some tiles; a source that knows of none has none."""
    if not hasattr(source, "unread"):  # asking for the protocol takes longer than painting
        return
    holed = cast("Holed", source)
    holes = [frame.pixels(hole).intersected(rect) for key in keys for hole in holed.unread(Spot(*key[1:]))]
    if not any(not hole.isEmpty() for hole in holes):
        return
    painter.save()
    painter.setBrushOrigin(frame.pixels(holed.bounds).topLeft())  # strips that are painted one by one join
    for hole in holes:
        painter.fillRect(hole, GROUND)
        painter.fillRect(hole, QBrush(LINES, Qt.BrushStyle.BDiagPattern))
    painter.restore()
