"""A line to type into on a plate over the map: its keys never reach the map, but for Esc."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit


class KeptKeysLine(QLineEdit):
    """Keeps what a plain line hands on to what lies under it: Enter there would set a corner of the map."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take every key but Esc, which is left to the map's tool."""
        if event.key() == Qt.Key.Key_Escape:
            event.ignore()
            return
        super().keyPressEvent(event)
        event.accept()
