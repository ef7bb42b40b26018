"""Days of a stay as pips: one square a day, filled once begun, the shown day underlined."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter, QPen

from pigmap.drawing.tokens import GROUP_SIGNS, Theme

MOST = 10
"""More days than this are drawn as one bar."""
SIDE, GAP = 16.0, 4.0


def pips_wide(days: int | None, number: int, room: float) -> float:
    """Return the breadth that the pips of a stay take [px]."""
    count = max(days or number, 1)
    return min(room, count * SIDE + (count - 1) * GAP) if count <= MOST else min(room, MOST * (SIDE + GAP))


def draw_pips(painter: QPainter, box: QRectF, number: int, days: int | None, colour_index: int, theme: Theme) -> None:
    """Draw a stay of so many days on its day `number`, counted from 1; no end known is a last pip left open."""
    count = max(days or number, number, 1)
    colour = QColor(GROUP_SIGNS[colour_index % len(GROUP_SIGNS)].colour)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if count > MOST:
        _bar(painter, box, number / count, colour, theme)
    else:
        _squares(painter, box, number, count, colour, theme)
    painter.restore()


def _squares(painter: QPainter, box: QRectF, number: int, count: int, colour: QColor, theme: Theme) -> None:
    step = (box.width() + GAP) / count
    side = min(SIDE, step - GAP / 2)
    for at in range(count):
        pip = QRectF(box.x() + at * step, box.y(), side, SIDE).adjusted(0.8, 0.8, -0.8, -0.8)
        painter.setPen(QPen(QColor(theme.ink), 1.6))
        painter.setBrush(colour if at < number else QColor(theme.plate))
        painter.drawRoundedRect(pip, 3, 3)
        if at + 1 == number:
            painter.fillRect(QRectF(box.x() + at * step, box.y() + SIDE + 2.5, side, 2.2), QColor(theme.ink))


def _bar(painter: QPainter, box: QRectF, share: float, colour: QColor, theme: Theme) -> None:
    whole = QRectF(box.x(), box.y(), box.width(), SIDE).adjusted(0.8, 0.8, -0.8, -0.8)
    painter.setPen(QPen(QColor(theme.ink), 1.6))
    painter.setBrush(QColor(theme.plate))
    painter.drawRoundedRect(whole, 3, 3)
    painter.setBrush(colour)
    painter.drawRoundedRect(QRectF(whole.x(), whole.y(), whole.width() * min(1.0, share), whole.height()), 3, 3)
