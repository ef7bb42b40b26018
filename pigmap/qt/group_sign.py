"""The sign of a group: a shape, a colour and a letter, the same on cards, strip and map."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPainterPath, QPen, QPolygonF

from pigmap.drawing.tokens import GROUP_SIGNS, MAP_INK

LEAST_FOR_LETTER = 15.0
"""Below this size a sign has no letter [px]."""


def sign_path(sign: str, box: QRectF) -> QPainterPath:
    """Return the outline of a sign within a box."""
    path = QPainterPath()
    if sign in _CORNERS:
        path.addPolygon(QPolygonF([_at(box, x, y) for x, y in _CORNERS[sign]]))
        path.closeSubpath()
    elif sign == "disc":
        path.addEllipse(box)
    elif sign == "square":
        path.addRoundedRect(
            box.adjusted(box.width() * 0.04, box.width() * 0.04, -box.width() * 0.04, -box.width() * 0.04),
            box.width() * 0.14,
            box.width() * 0.14,
        )
    elif sign == "stadium":
        path.addRoundedRect(
            box.adjusted(0, box.height() * 0.14, 0, -box.height() * 0.14), box.height() * 0.36, box.height() * 0.36
        )
    elif sign == "arch":
        _arch(path, box)
    else:
        _shield(path, box)
    return path


def _turned(count: int, start_deg: float) -> tuple[tuple[float, float], ...]:
    angles = [math.radians(start_deg + 360 * at / count) for at in range(count)]
    return tuple((0.5 + 0.53 * math.cos(angle), 0.5 + 0.53 * math.sin(angle)) for angle in angles)


_CORNERS: dict[str, tuple[tuple[float, float], ...]] = {
    "hexagon": _turned(6, 0),
    "pentagon": _turned(5, -90),
    "trapezium": ((0.2, 0.08), (0.8, 0.08), (1.02, 0.94), (-0.02, 0.94)),
}


def _at(box: QRectF, x: float, y: float) -> QPointF:
    return QPointF(box.x() + x * box.width(), box.y() + y * box.height())


def _arch(path: QPainterPath, box: QRectF) -> None:
    path.moveTo(_at(box, 0.06, 0.97))
    path.lineTo(_at(box, 0.06, 0.47))
    path.arcTo(QRectF(_at(box, 0.06, 0.03), _at(box, 0.94, 0.91)), 180, -180)
    path.lineTo(_at(box, 0.94, 0.97))
    path.closeSubpath()


def _shield(path: QPainterPath, box: QRectF) -> None:
    path.moveTo(_at(box, 0.06, 0.06))
    path.lineTo(_at(box, 0.94, 0.06))
    path.lineTo(_at(box, 0.94, 0.5))
    path.quadTo(_at(box, 0.92, 0.84), _at(box, 0.5, 1.02))
    path.quadTo(_at(box, 0.08, 0.84), _at(box, 0.06, 0.5))
    path.closeSubpath()


def draw_group_sign(
    painter: QPainter, box: QRectF, colour_index: int, letter: str, font: QFont, *, edge: str = ""
) -> None:
    """Draw a group's sign into a box; small ones go without a letter.

    Parameters
    ----------
    painter, box
        Where, and how large [px].
    colour_index, letter
        Which of the signs, and what stands in it.
    font
        Font of the letter; its size follows the box.
    edge
        Colour of a second outline around the first, for dark ground; empty for none.
    """
    sign = GROUP_SIGNS[colour_index % len(GROUP_SIGNS)]
    size = box.width()
    wide = max(1.2, min(2.2, size * 0.075))
    path = sign_path(sign.sign, box.adjusted(wide / 2, wide / 2, -wide / 2, -wide / 2))
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if edge:
        painter.setPen(QPen(QColor(edge), wide + 2.4))
        painter.drawPath(path)
    painter.setPen(
        QPen(QColor(MAP_INK), wide, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)
    )
    painter.setBrush(QColor(sign.colour))
    painter.drawPath(path)
    if letter and size >= LEAST_FOR_LETTER:
        lettering = QFont(font)
        lettering.setPixelSize(max(9, round(size * 0.5)))
        lettering.setWeight(QFont.Weight.Bold)
        painter.setFont(lettering)
        painter.setPen(QColor(sign.letter))
        painter.drawText(box.translated(0, size * _LOWERED.get(sign.sign, 0.0)), Qt.AlignmentFlag.AlignCenter, letter)
    painter.restore()


_LOWERED = {"arch": 0.05, "pentagon": 0.04, "trapezium": 0.04, "shield": -0.03}
"""How far the letter stands below the middle, as a share of the size."""
