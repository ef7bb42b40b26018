"""The small button by the date handle that plays the past two years, and stops."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPolygonF
from PySide6.QtWidgets import QWidget

from pigmap.qt.buttons import Button
from pigmap.qt.paintwork import plate
from pigmap.qt.playback import PLAYS
from pigmap.qt.stage import Stage
from pigmap.qt.theme import RADIUS_BUTTON, tokens

SIDE = 28


class PlayButton(Button):
    """A triangle while nothing plays, a square while it does."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent)
        self.setProperty(PLAYS, True)
        self.clicked.connect(stage.playback.toggle)
        stage.playback.changed.connect(self._tell)
        stage.theme_changed.connect(self.update)
        self._tell()

    def _tell(self) -> None:
        stage = self.stage
        words = stage.say("Stop (Y)") if stage.playback.running else stage.say("Play the past two years (Y)")
        self.setAccessibleName(words)
        self.setToolTip(words)
        self.update()

    def sizeHint(self) -> QSize:
        """Return a square as high as the flag."""
        side = round(SIDE * self.stage.text_scale)
        return QSize(side, side)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw plate and sign."""
        theme = tokens(self.stage)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            box = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
            plate(
                painter, box, theme.well if self.hovered else theme.plate, theme.edge, width=1.4, radius=RADIUS_BUTTON
            )
            painter.setBrush(QColor(theme.ink))
            painter.setPen(QColor(theme.ink))
            middle, half = box.center(), box.height() * 0.2
            if self.stage.playback.running:
                painter.drawRect(QRectF(middle.x() - half, middle.y() - half, 2 * half, 2 * half))
            else:
                corners = ((-0.8, -1.1), (-0.8, 1.1), (1.2, 0.0))
                painter.drawPolygon(QPolygonF([middle + QPointF(x * half, y * half) for x, y in corners]))
