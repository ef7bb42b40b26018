"""A cross that puts a panel away."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from pigmap.qt.buttons import Button
from pigmap.qt.icons import paint_icon
from pigmap.qt.paintwork import plate
from pigmap.qt.stage import Stage
from pigmap.qt.theme import RADIUS_BUTTON, tokens


class CloseButton(Button):
    """The cross at the upper right."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent)
        self.setAccessibleName(stage.say("Close"))
        self.setToolTip(stage.say("Close"))

    def sizeHint(self) -> QSize:
        """Return the room it takes."""
        return QSize(32, 32)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the cross."""
        with QPainter(self) as painter:
            theme = tokens(self.stage)
            if self.hovered:
                plate(painter, QRectF(self.rect()), theme.well, radius=RADIUS_BUTTON)
            box = QRectF((self.width() - 18) / 2, (self.height() - 18) / 2, 18, 18)
            paint_icon(painter, "close", box, theme.ink)
