"""A widget whose mouse and keys are handed on to gestures."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QWidget

from pigmap.drawing.view import View
from pigmap.qt.gestures import Gestures


class HandedOn(QWidget):
    """Hands its events to `gestures` and tells where the pointer is."""

    gestures: Gestures
    pointed = Signal(object)
    """Ground under the pointer as (east, north) in grid metres; None once it left."""

    @property
    def view(self) -> View:
        """Which ground lies where on the widget."""
        raise NotImplementedError

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Hand the button to the tool, or begin to move the map."""
        self.gestures.press(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Hand the move to the tool, or move the map."""
        self.gestures.move(event)
        self.pointed.emit(self.view.to_ground(event.position().x(), event.position().y()))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Hand the button to the tool, or let the map rest."""
        self.gestures.release(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Hand the double click to the tool."""
        self.gestures.double(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom at the pointer."""
        self.gestures.wheel(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Hand the key to the tool, or move and zoom the map; what neither wants goes to the window."""
        if not self.gestures.key(event):
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Let go of the space bar."""
        self.gestures.key_up(event)
        super().keyReleaseEvent(event)

    def leaveEvent(self, event: QEvent) -> None:
        """Forget the pointer."""
        self.pointed.emit(None)
