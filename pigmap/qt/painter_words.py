"""Write words in pixels and in millimetres alike: the type is always large enough to be exact."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPaintEngine, QPainter, QPainterPath, QStaticText

from pigmap.drawing.page import Align
from pigmap.drawing.tokens import CASING
from pigmap.qt.fonts import font
from pigmap.qt.painter_paths import colour, is_vector, pen

_RIM_ALPHA = "E8"
_SIDES = 8
"""Directions to which words are moved for a rim: what is between them is a tenth of a pixel."""
_BROADER = 1.08
"""Words that are broader than reckoned by more than this run into what stands beside them. Own choice."""
_FINE = 100.0
"""Pixels of type in a millimetre of paper before it is scaled down: type comes in whole pixels only."""


def write_words(
    painter: QPainter,
    x: float,
    baseline: float,
    words: str,
    size: float,
    *,
    weight: int = 400,
    name: str = "#121A17",
    align: Align = "left",
    halo: float = 0.0,
    rim: str = CASING,
    paper: bool = False,
    turned_deg: float = 0.0,
    room: float = 0.0,
) -> None:
    """Write one line.

    Parameters
    ----------
    painter
        Its units are pixels, or millimetres where `paper` is set.
    x, baseline
        Where the words start (or end, or have their middle, as `align` says).
    size
        Height of the type (its em) in the painter's units.
    halo
        Breadth of an edge around the letters.
    rim
        Colour of that edge.
    room
        What was reckoned as its breadth; words that are much broader in the letters of this machine are made narrower.
    """
    fine = _FINE if paper else 1.0
    type_face = font(size * fine, weight)
    painter.save()
    painter.translate(x, baseline)
    painter.rotate(-turned_deg)
    painter.scale(1 / fine, 1 / fine)
    advance = QFontMetricsF(type_face).horizontalAdvance(words)
    left = -_SHARES[align] * advance
    if room > 0.0 and advance > _BROADER * room * fine:
        painter.scale(room * fine / advance, 1.0)
    if halo and (paper or is_vector(painter)):
        _write_halo(painter, left, words, type_face, halo * fine, rim)
    elif halo:
        _stamp_halo(painter, left, words, type_face, halo, rim)
    painter.setFont(type_face)
    if painter.paintEngine().type() == QPaintEngine.Type.SVG:
        _write_shapes(painter, left, words, type_face, name)
    else:
        painter.setPen(colour(name))
        painter.drawText(QPointF(left, 0), words)
    painter.restore()


_SHARES = {"left": 0.0, "centre": 0.5, "right": 1.0}


def _write_shapes(painter: QPainter, left: float, words: str, type_face: QFont, name: str) -> None:
    """Write letters as shapes: a file that cannot carry its font is read the same everywhere."""
    path = QPainterPath()
    path.addText(left, 0, type_face, words)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour(name))
    painter.drawPath(path)


def _write_halo(painter: QPainter, left: float, words: str, type_face: QFont, halo: float, rim: str) -> None:
    path = QPainterPath()
    path.addText(left, 0, type_face, words)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(pen(rim if is_vector(painter) else f"{rim}{_RIM_ALPHA}", 2 * halo))
    painter.drawPath(path)


def _stamp_halo(painter: QPainter, left: float, words: str, type_face: QFont, halo: float, rim: str) -> None:
    """Write the words in the colour of the rim, moved to all sides: a seventh of the time of a stroked path."""
    text = QStaticText(words)
    text.setTextFormat(Qt.TextFormat.PlainText)
    top = -QFontMetricsF(type_face).ascent()
    painter.setFont(type_face)
    painter.setPen(colour(f"{rim}{_RIM_ALPHA}"))
    for number in range(_SIDES):
        angle = number * 2 * math.pi / _SIDES
        painter.drawStaticText(QPointF(left + halo * math.cos(angle), top + halo * math.sin(angle)), text)
