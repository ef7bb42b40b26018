"""Scale bar and north on a plate in the map's upper right corner."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPixmap, QPolygonF

from pigmap.qt.paintwork import Middle, plate, shadow, write
from pigmap.qt.theme import font, tokens
from pigmap.text import Quantity, Text
from pigmap.units import METRES_PER_FOOT

if TYPE_CHECKING:
    from pigmap.qt.ground_view import GroundView

MARGIN_PX = 12
LONGEST_PX = 150
HIGH_PX = 34
NORTH_PX = 24
_STEPS = (1, 2, 5)


def round_length(longest: float) -> float:
    """Return the largest of 1, 2, 5, 10, 20, 50 ... that is not longer.

    Examples
    --------
    >>> [round_length(length) for length in (0.7, 4.9, 63.0, 250.0)]
    [0.5, 2.0, 50.0, 200.0]
    """
    power = 1.0
    while power > longest:
        power /= 10
    while power * 10 <= longest:
        power *= 10
    return max(step * power for step in _STEPS if step * power <= longest)


class ScaleBar:
    """Draws the plate; it is painted once for a scale and copied from then on."""

    def __init__(self, view: GroundView) -> None:
        self._view = view
        self._made: tuple[object, ...] = ()
        self._picture = QPixmap()

    def draw(self, painter: QPainter) -> None:
        """Draw the plate over the map, in units of the widget."""
        picture = self._kept()
        painter.drawPixmap(
            QPointF(self._view.width() - picture.deviceIndependentSize().width() - MARGIN_PX, 0), picture
        )

    def _kept(self) -> QPixmap:
        stage, view = self._view.stage, self._view.view
        density = self._view.devicePixelRatioF()
        wanted = (view.metres_per_unit, stage.theme, stage.units, stage.text_scale, density)
        if wanted != self._made:
            self._made = wanted
            self._picture = self._paint(view.metres_per_unit * stage.session.farm.projection.ground_per_grid, density)
        return self._picture

    def _paint(self, metres_per_px: float, density: float) -> QPixmap:
        stage = self._view.stage
        metres = METRES_PER_FOOT if stage.units == "us" else 1.0
        length = round_length(LONGEST_PX * metres_per_px / metres) * metres
        wide = length / metres_per_px
        words = [stage.words(Text("{length}", {"length": Quantity(part, "m")})) for part in (length / 2, length)]
        box = QRectF(8, MARGIN_PX, wide + 62 + NORTH_PX, HIGH_PX)
        picture = QPixmap(round((box.width() + 16) * density), round((box.height() + MARGIN_PX + 8) * density))
        picture.setDevicePixelRatio(density)
        picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(picture)
        shadow(painter, box, radius=6)
        plate(painter, box, tokens(stage).plate, radius=6)
        self._bar(painter, box.left() + 16, box.top(), wide, ("0", words[0].split()[0], words[1]))
        self._north(painter, QPointF(box.right() - NORTH_PX / 2 - 6, box.center().y()))
        painter.end()
        return picture

    def _bar(self, painter: QPainter, left: float, top: float, wide: float, words: tuple[str, ...]) -> None:
        ink = tokens(self._view.stage).ink
        face = font("tick", self._view.stage)
        for share, word in zip((0.0, 0.5, 1.0), words, strict=True):
            write(painter, QRectF(left + share * wide - 40, top + 3, 80, 16), word, face, ink, Middle)
        bar = QRectF(left, top + 21, wide, 5)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.setPen(QPen(QColor(ink), 1.4))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(bar)
        painter.fillRect(QRectF(left, top + 21, wide / 2, 5), QColor(ink))

    def _north(self, painter: QPainter, middle: QPointF) -> None:
        ink = tokens(self._view.stage).ink
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(ink))
        tip = middle - QPointF(0, 12)
        painter.drawPolygon(
            QPolygonF([tip, tip + QPointF(5, 12), tip + QPointF(0, 9), tip + QPointF(-5, 12)]),
        )
        face = font("tick", self._view.stage, weight=700)
        write(painter, QRectF(middle.x() - 10, middle.y(), 20, 14), "N", face, ink, Middle)
