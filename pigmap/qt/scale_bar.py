"""Scale bar and north on a plate in the map's upper right corner."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPixmap, QPolygonF, QRegion

from pigmap.qt.paintwork import Middle, breadth, plate, shadow, write
from pigmap.qt.theme import font, tokens
from pigmap.units import METRES_PER_FOOT, System

if TYPE_CHECKING:
    from pigmap.qt.ground_view import GroundView

MARGIN_PX = 12
LONGEST_PX = 150
HIGH_PX = 34
TALLEST_PX = 80
"""The plate reaches no lower than this, at any text size."""
NORTH_PX = 24
APART_PX = 6
"""Between two of its figures at least; the one in the middle is left out where there is less."""
LINE_PX = 16
"""Height of a line of its words at the usual text size."""
METRES_PER_MILE = 5280 * METRES_PER_FOOT
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


def unit_for(longest_m: float, system: System) -> tuple[float, str]:
    """Return the unit of a bar that is at most so long, and its sign: one that keeps the figures short.

    Examples
    --------
    >>> unit_for(200.0, "metric"), unit_for(40_000.0, "metric"), unit_for(40_000.0, "us")
    ((1.0, 'm'), (1000.0, 'km'), (1609.344, 'mi'))
    """
    if system == "us":
        return (METRES_PER_MILE, "mi") if longest_m >= METRES_PER_MILE else (METRES_PER_FOOT, "ft")
    return (1000.0, "km") if longest_m >= 2000.0 else (1.0, "m")


class ScaleBar:
    """Draws the plate; it is painted once for a scale and copied from then on."""

    def __init__(self, view: GroundView) -> None:
        self._view = view
        self._made: tuple[object, ...] = ()
        self._picture = QPixmap()

    def draw(self, painter: QPainter, region: QRegion) -> None:
        """Draw the plate over the map, in units of the widget, if it lies in the region that is painted."""
        width = self._view.width()
        if not region.intersects(QRect(0, 0, width, TALLEST_PX)):
            return
        picture = self._kept()
        painter.drawPixmap(QPointF(width - picture.deviceIndependentSize().width() - MARGIN_PX, 0), picture)

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
        metres, sign = unit_for(LONGEST_PX * metres_per_px, stage.units)
        length = round_length(LONGEST_PX * metres_per_px / metres)
        wide = length * metres / metres_per_px
        taller = round(LINE_PX * (stage.text_scale - 1))
        box = QRectF(8, MARGIN_PX, wide + 62 * stage.text_scale + NORTH_PX, HIGH_PX + taller)
        picture = QPixmap(round((box.width() + 16) * density), round((box.height() + MARGIN_PX + 8) * density))
        picture.setDevicePixelRatio(density)
        picture.fill(Qt.GlobalColor.transparent)
        with QPainter(picture) as painter:
            shadow(painter, box, radius=6)
            plate(painter, box, tokens(stage).plate, radius=6)
            bar = QRectF(box.left() + 16, box.top() + 21 + taller, wide, 5)
            self._bar(painter, bar, ("0", f"{length / 2:g}", f"{length:g} {sign}"))
            self._north(painter, QPointF(box.right() - NORTH_PX / 2 - 6, box.center().y()))
        return picture

    def _bar(self, painter: QPainter, bar: QRectF, words: tuple[str, ...]) -> None:
        ink = tokens(self._view.stage).ink
        face = font("tick", self._view.stage)
        high = LINE_PX * self._view.stage.text_scale
        wide = [breadth(word, face) for word in words]
        has_room = (wide[1] + max(wide[0], wide[2])) / 2 + APART_PX < bar.width() / 2
        shown = (0.0, 0.5, 1.0) if has_room else (0.0, 1.0)
        for share, word in zip((0.0, 0.5, 1.0), words, strict=True):
            if share not in shown:
                continue
            middle = bar.left() + share * bar.width()
            write(painter, QRectF(middle - 60, bar.top() - 2 - high, 120, high), word, face, ink, Middle)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.setPen(QPen(QColor(ink), 1.4))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(bar)
        painter.fillRect(QRectF(bar.left(), bar.top(), bar.width() / 2, bar.height()), QColor(ink))

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
        high = 14 * self._view.stage.text_scale
        write(painter, QRectF(middle.x() - high, middle.y(), 2 * high, high), "N", face, ink, Middle)
