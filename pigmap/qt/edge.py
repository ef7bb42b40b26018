"""An edge between two parts of the window: dragging moves it, a double click puts it back."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QWidget

THICK = 8
"""Breadth of the strip that takes the drag [px]."""


class Edge(QWidget):
    """An unseen strip over an edge."""

    moved = Signal(int)
    """Where the pointer is, along the window's own axis [px]."""
    put_back = Signal()

    def __init__(self, orientation: Qt.Orientation, parent: QWidget) -> None:
        super().__init__(parent)
        self._upright = orientation == Qt.Orientation.Vertical
        self.setCursor(Qt.CursorShape.SplitHCursor if self._upright else Qt.CursorShape.SplitVCursor)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Follow the drag."""
        at = self.mapToParent(event.position().toPoint())
        self.moved.emit(at.x() if self._upright else at.y())

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Put the edge back where it belongs."""
        self.put_back.emit()
