"""A list to choose one line from, with the arrow of our icons: the style's own is drawn half outside its box."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QComboBox, QWidget

from pigmap.qt.icons import paint_icon
from pigmap.qt.stage import Stage
from pigmap.qt.theme import tokens

ARROW = 18
"""Side of the arrow [px]."""
LEAST_WIDE = 72
"""Least breadth of the box [px]."""
RIGHT = 10
"""Between the arrow and the edge [px]."""


class ChoiceBox(QComboBox):
    """Opens with a click, Space or the arrow keys; Tab reaches it, a click does not take the keys from the map."""

    def __init__(self, stage: Stage, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.stage = stage
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(6)

    def minimumSizeHint(self) -> QSize:
        """Return the least room: long lines are cut short rather than pushing others out."""
        return QSize(LEAST_WIDE, super().minimumSizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the arrow over the box."""
        super().paintEvent(event)
        side = round(ARROW * self.stage.text_scale)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            box = QRectF(self.width() - RIGHT - side, (self.height() - side) / 2, side, side)
            paint_icon(painter, "open", box, tokens(self.stage).ink)
