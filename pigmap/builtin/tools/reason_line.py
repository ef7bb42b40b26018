"""The line for a reason on the plate beside a ghost."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit


class ReasonLine(QLineEdit):
    """The line for a reason; Esc closes it."""

    dropped = Signal()
    """Somebody wants it closed."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Close on Esc; the line takes every other key."""
        if event.key() == Qt.Key.Key_Escape:
            self.dropped.emit()
            return
        super().keyPressEvent(event)
        event.accept()
