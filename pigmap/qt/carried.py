"""Layers that follow the pointer: painted once, then only moved."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QPainter, QPixmap

from pigmap.drawing.layer import Layer
from pigmap.drawing.view import View
from pigmap.qt.painter import paint
from pigmap.qt.preview import covered


class Carried:
    """A picture of some layers that is moved over the map in whole pixels; signs and lines keep their sizes."""

    def __init__(self) -> None:
        self._layers: tuple[Layer, ...] = ()
        self._picture = QPixmap()
        self._shown = False
        self._scale = 0.0
        self._anchor = (0.0, 0.0)
        self._by = (0.0, 0.0)
        self.rect = QRect()
        """Where it lies, in pixels of the widget."""

    def show(self, layers: Sequence[Layer], by: tuple[float, float], view: View, density: float) -> QRect:
        """Show layers moved by east and north [m]; return what of the widget changes. No layers show nothing."""
        before, self._shown = self.rect, bool(layers)
        if not layers:  # the picture is kept: the same layers come back with the next move
            self.rect = QRect()
            return before
        if tuple(layers) != self._layers or self._scale != view.metres_per_unit:
            self._layers = tuple(layers)
            self._paint(view, density)
        self._by = by
        self.place(view)
        return before.united(self.rect)

    def place(self, view: View) -> None:
        """Find where it lies in a view."""
        if self._picture.isNull() or not self._shown:
            self.rect = QRect()
            return
        spot = np.array([[self._anchor[0] + self._by[0], self._anchor[1] + self._by[1]]])
        x, y = view.to_device(spot)[0].tolist()
        self.rect = QRect(QPoint(round(x), round(y)), self._picture.deviceIndependentSize().toSize())

    def draw(self, painter: QPainter) -> None:
        """Draw it over the map."""
        if not self.rect.isNull():
            painter.drawPixmap(self.rect.topLeft(), self._picture)

    def _paint(self, view: View, density: float) -> None:
        self._scale = view.metres_per_unit
        self._picture = QPixmap()
        # Wherever it is now, all of it is wanted: a view that has it in its middle.
        wide = View(view.centre_x_m, view.centre_y_m, view.metres_per_unit, 1e6, 1e6)
        box = covered(self._layers, wide)
        if box.isEmpty() or box.width() > 8 * view.width or box.height() > 8 * view.height:
            return
        west, north = wide.to_ground(box.left(), box.top())
        size = box.size()
        east, south = wide.to_ground(box.left() + size.width(), box.top() + size.height())
        own = View((west + east) / 2, (south + north) / 2, self._scale, size.width(), size.height())
        self._anchor = (west, north)
        self._picture = QPixmap(round(size.width() * density), round(size.height() * density))
        self._picture.setDevicePixelRatio(density)
        self._picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(self._picture)
        paint(self._layers, painter, own)
        painter.end()
