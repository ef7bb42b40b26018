"""What painted controls are made of: plates, rules, and words that fit their place."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPixmap, QStaticText, QTransform

Left = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
Right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
Middle = Qt.AlignmentFlag.AlignCenter


def plate(
    painter: QPainter, box: QRectF, fill: str, edge: str = "", *, width: float = 1.0, radius: float = 8.0
) -> None:
    """Draw a rounded plate, with an edge that lies within the box."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(QColor(fill) if fill else Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(edge), width) if edge else Qt.PenStyle.NoPen)
    half = width / 2 if edge else 0.0
    painter.drawRoundedRect(box.adjusted(half, half, -half, -half), radius, radius)
    painter.restore()


def shadow(painter: QPainter, box: QRectF, radius: float = 8.0) -> None:
    """Draw the one soft shadow, for things that lie on the map; it needs 6 px around the box."""
    density = painter.device().devicePixelRatio()
    made = _shadow(box.width(), box.height(), radius, density)
    painter.drawPixmap(box.topLeft() - QPointF(SHADOW, SHADOW), made)


@lru_cache(maxsize=64)
def _shadow(width: float, height: float, radius: float, density: float) -> QPixmap:
    """Return the shadow of a box as a picture: things on the map are painted again with every move of it."""
    size = QSize(round((width + 2 * SHADOW) * density), round((height + 2 * SHADOW) * density))
    made = QPixmap(size)
    made.setDevicePixelRatio(density)
    made.fill(Qt.GlobalColor.transparent)
    with QPainter(made) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        box = QRectF(SHADOW, SHADOW, width, height)
        for grown, alpha in ((1.0, 26), (3.0, 16), (5.0, 10)):
            painter.setBrush(QColor(0, 0, 0, alpha))
            painter.drawRoundedRect(box.adjusted(-grown, -grown + 1, grown, grown + 1), radius + grown, radius + grown)
    return made


SHADOW = 6
"""Room that the shadow takes on each side [px]."""


def rule(painter: QPainter, x1: float, x2: float, y: float, colour: str) -> None:
    """Draw a level line, one pixel wide."""
    painter.setPen(QPen(QColor(colour), 1))
    painter.drawLine(QPointF(x1, round(y) + 0.5), QPointF(x2, round(y) + 0.5))


class _Line(NamedTuple):
    """One line, shaped: shaping costs more than drawing, and the same few words are drawn again and again."""

    text: QStaticText
    wide: float
    high: float


_LINES: dict[tuple[str, str, int], _Line] = {}
_MOST_LINES = 4096


def _line(words: str, font: QFont, room: float) -> _Line:
    key = (words, font.key(), round(room))
    made = _LINES.get(key)
    if made is None:
        if len(_LINES) >= _MOST_LINES:
            _LINES.clear()
        metrics = QFontMetricsF(font)
        shown = metrics.elidedText(words, Qt.TextElideMode.ElideRight, room + 0.5)
        text = QStaticText(shown)
        text.setTextFormat(Qt.TextFormat.PlainText)
        text.prepare(QTransform(), font)
        made = _LINES[key] = _Line(text, metrics.horizontalAdvance(shown), metrics.height())
    return made


def write(
    painter: QPainter,
    box: QRectF,
    words: str,
    font: QFont,
    colour: str,
    align: Qt.AlignmentFlag = Left,
) -> float:
    """Write one line into the middle of a box's height, shortened where it is too long; return its breadth [px].

    `align` is `Left`, `Right` or `Middle`.
    """
    if not words:
        return 0.0
    line = _line(words, font, box.width())
    free = box.width() - line.wide
    x = box.x() + (0.0 if align == Left else free if align == Right else free / 2)
    painter.setFont(font)
    painter.setPen(QColor(colour))
    painter.drawStaticText(QPointF(x, box.y() + (box.height() - line.high) / 2), line.text)
    return line.wide


def write_wrapped(painter: QPainter, box: QRectF, words: str, font: QFont, colour: str) -> None:
    """Write words into a box over as many lines as it takes."""
    painter.setFont(font)
    painter.setPen(QColor(colour))
    painter.drawText(box, WRAPPED, words)


WRAPPED = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop) | int(Qt.TextFlag.TextWordWrap)


def wrapped_height(words: str, font: QFont, width: float) -> float:
    """Return the height of words over as many lines as a breadth asks for [px]."""
    return QFontMetricsF(font).boundingRect(QRectF(0, 0, width, 10_000), WRAPPED, words).height()


def line_height(font: QFont) -> float:
    """Return the height of one line [px]."""
    return QFontMetricsF(font).height()


def breadth(words: str, font: QFont) -> float:
    """Return the breadth of words on one line [px]."""
    return QFontMetricsF(font).horizontalAdvance(words)
