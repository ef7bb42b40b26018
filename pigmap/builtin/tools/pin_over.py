"""The picture that is being pinned, half transparent over the map, with its pins."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QEvent, QObject, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPaintEvent, QPen, QTransform
from PySide6.QtWidgets import QWidget

from pigmap.drawing.tokens import CASING, MAP_INK, MAP_PLAN
from pigmap.geometry.pinned import Fit
from pigmap.qt.paintwork import Middle, write
from pigmap.qt.pinning import Pinning
from pigmap.qt.theme import font
from pigmap.qt.tool import Host

OPACITY = 0.55
RING_PX = 9.0
CROSS_PX = 13.0


class PinOver(QWidget):
    """Covers the map and leaves every gesture to it.

    A ring is the point of the picture, a cross its place on the map; a line joins them where they lie apart.
    """

    def __init__(self, host: Host, pinning: Pinning) -> None:
        super().__init__(host.widget)
        self._host = host
        self._pinning = pinning
        self.pointer: tuple[float, float] | None = None
        """Where the pointer is on the ground, while a point waits for its place [grid m]."""
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setAttribute(Qt.WidgetAttribute.WA_NoSystemBackground)
        self.setGeometry(host.widget.rect())
        host.widget.installEventFilter(self)
        moved = getattr(host.widget, "moved", None)
        if moved is not None:
            moved.connect(self.update)
        pinning.changed.connect(self.update)
        self.lower()
        self.show()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Cover the map whatever its size."""
        if event.type() == QEvent.Type.Resize:
            self.setGeometry(self._host.widget.rect())
        return False

    def fit(self) -> Fit:
        """Return where the picture is shown now."""
        return self._pinning.shown(self._host.view.bounds)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Show picture and pins."""
        pinning = self._pinning
        if pinning.path is None:
            return
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            fit = self.fit()
            self._paint_picture(painter, fit)
            rings = self._pixels(fit.to_ground(np.array([pin[:2] for pin in pinning.pins]).reshape(-1, 2)))
            crosses = self._pixels(np.array([pin[2:] for pin in pinning.pins]).reshape(-1, 2))
            for number, (ring, cross) in enumerate(zip(rings, crosses, strict=True), 1):
                _joined(painter, ring, cross)
                _ring(painter, ring, MAP_PLAN)
                _cross(painter, cross)
                write(
                    painter, QRectF(cross.x() + 8, cross.y() - 26, 24, 20), str(number), self._face(), MAP_INK, Middle
                )
            if pinning.spot is not None:
                (ring,) = self._pixels(fit.to_ground(np.array([pinning.spot])))
                if self.pointer is not None:
                    (to,) = self._pixels(np.array([self.pointer]))
                    _joined(painter, ring, to)
                _ring(painter, ring, MAP_PLAN)

    def _face(self) -> QFont:
        return font("strong", self._host.stage, weight=700)

    def _paint_picture(self, painter: QPainter, fit: Fit) -> None:
        a, b, c, d, e, f = fit.transform
        pinning, view = self._pinning, self._host.view
        across, down = pinning.size[0] / pinning.picture.width(), pinning.size[1] / pinning.picture.height()
        unit = 1 / view.metres_per_unit
        (left, top) = view.to_device(np.array([[c, f]]))[0].tolist()
        turned = QTransform(a * across * unit, -d * across * unit, b * down * unit, -e * down * unit, left, top)
        painter.save()
        painter.setTransform(turned, True)
        painter.setOpacity(OPACITY)
        painter.drawImage(QPointF(0, 0), pinning.picture)
        painter.setOpacity(1.0)
        edge = QPen(QColor(MAP_PLAN), 2)
        edge.setCosmetic(True)
        painter.setPen(edge)
        painter.drawRect(QRectF(0, 0, pinning.picture.width(), pinning.picture.height()))
        painter.restore()

    def _pixels(self, points: NDArray[np.float64]) -> list[QPointF]:
        return [QPointF(*point) for point in self._host.view.to_device(points).tolist()]


def _strokes(painter: QPainter, colour: str, width: float) -> list[QPen]:
    painter.setBrush(Qt.BrushStyle.NoBrush)
    pens = [QPen(QColor(CASING), width + 4), QPen(QColor(colour), width)]
    for pen in pens:
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    return pens


def _ring(painter: QPainter, at: QPointF, colour: str) -> None:
    for pen in _strokes(painter, colour, 2.6):
        painter.setPen(pen)
        painter.drawEllipse(at, RING_PX, RING_PX)


def _cross(painter: QPainter, at: QPointF) -> None:
    for pen in _strokes(painter, MAP_INK, 2.0):
        painter.setPen(pen)
        painter.drawLine(at - QPointF(CROSS_PX, 0), at + QPointF(CROSS_PX, 0))
        painter.drawLine(at - QPointF(0, CROSS_PX), at + QPointF(0, CROSS_PX))


def _joined(painter: QPainter, ring: QPointF, cross: QPointF) -> None:
    for pen in _strokes(painter, MAP_PLAN, 2.0):
        painter.setPen(pen)
        painter.drawLine(ring, cross)
