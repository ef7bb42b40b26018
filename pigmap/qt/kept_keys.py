"""A line to type into over the map or on a plate: its keys never reach what lies under it, but for Esc."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit


class KeptKeysLine(QLineEdit):
    """Keeps what a plain line hands on: Enter there would set a corner of the map, a letter take up a verb."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take every key; what Esc does is said by `escape`."""
        if event.key() == Qt.Key.Key_Escape:
            self.escape(event)
            return
        super().keyPressEvent(event)
        event.accept()

    def escape(self, event: QKeyEvent) -> None:
        """Leave Esc to what lies under the line; lines that close on it do so here."""
        event.ignore()
