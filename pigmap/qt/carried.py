"""Layers that follow the pointer: painted once, then only moved."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QPainter, QPixmap

from pigmap.drawing.layer import Layer
from pigmap.drawing.view import View
from pigmap.qt.painter import paint
from pigmap.qt.preview import covered

MOST_KEPT = 32
"""Pictures that are kept for when their layers come back: a ghost in the directions of a few fields."""


class _Picture(NamedTuple):
    pixels: QPixmap
    anchor: tuple[float, float]
    """Ground under its upper left corner where its layers were made [m]."""


class Carried:
    """A picture of some layers that is moved over the map in whole pixels; signs and lines keep their sizes."""

    def __init__(self) -> None:
        self.layers: tuple[Layer, ...] = ()
        """What is shown."""
        self._kept: OrderedDict[tuple[tuple[Layer, ...], float, float], _Picture | None] = OrderedDict()
        self._picture: _Picture | None = None
        self._density = 1.0
        self._by = (0.0, 0.0)
        self.rect = QRect()
        """Where it lies, in pixels of the widget."""

    def show(self, layers: Sequence[Layer], by: tuple[float, float], view: View, density: float) -> QRect:
        """Show layers moved by east and north [m]; return what of the widget changes. No layers show nothing."""
        before = self.rect
        self.layers, self._by, self._density = tuple(layers), by, density
        self.place(view)
        return before.united(self.rect)

    def place(self, view: View) -> None:
        """Find where it lies in a view, and how it looks at its scale."""
        self._picture = self._pictured(view) if self.layers else None
        if self._picture is None:
            self.rect = QRect()
            return
        (east, north), (by_east, by_north) = self._picture.anchor, self._by
        x, y = view.to_device(np.array([[east + by_east, north + by_north]]))[0].tolist()
        self.rect = QRect(QPoint(round(x), round(y)), self._picture.pixels.deviceIndependentSize().toSize())

    def draw(self, painter: QPainter) -> None:
        """Draw it over the map."""
        if self._picture is not None:
            painter.drawPixmap(self.rect.topLeft(), self._picture.pixels)

    def _pictured(self, view: View) -> _Picture | None:
        key = (self.layers, view.metres_per_unit, self._density)
        if key not in self._kept:
            self._kept[key] = _painted(self.layers, view, self._density)
            if len(self._kept) > MOST_KEPT:
                self._kept.popitem(last=False)
        self._kept.move_to_end(key)
        return self._kept[key]


def _painted(layers: Sequence[Layer], view: View, density: float) -> _Picture | None:
    """Return a picture of layers; None of nothing, or where it would be far larger than the map."""
    # Wherever it is now, all of it is wanted: a view that has it in its middle.
    wide = View(view.centre_x_m, view.centre_y_m, view.metres_per_unit, 1e6, 1e6)
    box = covered(layers, wide)
    if box.isEmpty() or box.width() > 8 * view.width or box.height() > 8 * view.height:
        return None
    west, north = wide.to_ground(box.left(), box.top())
    size = box.size()
    east, south = wide.to_ground(box.left() + size.width(), box.top() + size.height())
    own = View((west + east) / 2, (south + north) / 2, view.metres_per_unit, size.width(), size.height())
    pixels = QPixmap(round(size.width() * density), round(size.height() * density))
    pixels.setDevicePixelRatio(density)
    pixels.fill(Qt.GlobalColor.transparent)
    with QPainter(pixels) as painter:
        paint(layers, painter, own)
    return _Picture(pixels, (west, north))
