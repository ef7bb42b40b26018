"""What lies over the kept picture of the map: previews of tools, what they carry, and signs of the window's own."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QRect
from PySide6.QtGui import QPainter, QRegion

from pigmap.drawing.layer import Layer
from pigmap.drawing.view import View
from pigmap.qt.carried import Carried
from pigmap.qt.painter import paint
from pigmap.qt.preview import covered

Draw = Callable[[QPainter, QRegion], None]
"""Draws something over the map, in units of the widget, where a region is painted."""
NOT_MOVED = (0.0, 0.0)


class LaidOver:
    """Knows what of the widget changes when something else is laid over the map, and draws it; knows no widget."""

    def __init__(self) -> None:
        self._preview: list[tuple[Layer, QRect]] = []
        self._carried = Carried()
        self._held = Carried()
        self.draws: list[Draw] = []
        """What is drawn over all else in every frame."""
        self.changed = QRect()
        """What changed since it was drawn last, in pixels of the widget."""

    @property
    def layers(self) -> tuple[Layer, ...]:
        """All layers that lie over the map: held, shown, carried."""
        return (*self._held.layers, *(layer for layer, _ in self._preview), *self._carried.layers)

    def show(self, layers: Sequence[Layer], view: View) -> QRegion:
        """Show a preview; return what changes."""
        before, self._preview = dict(self._preview), []
        changed = QRegion()
        for layer in layers:
            known = before.pop(layer, None)
            self._preview.append((layer, covered([layer], view) if known is None else known))
            changed = changed.united(QRect() if known is not None else self._preview[-1][1])
        for rect in before.values():
            changed = changed.united(rect)
        self.changed = self.changed.united(changed.boundingRect())
        return changed

    def carry(self, layers: Sequence[Layer], by: tuple[float, float], view: View, density: float) -> QRect:
        """Show layers moved by east and north [m]; return what changes."""
        changed = self._carried.show(layers, by, view, density)
        self.changed = self.changed.united(changed)
        return changed

    def hold(self, layers: Sequence[Layer], view: View, density: float) -> QRect:
        """Show layers where they are, painted once; return what changes."""
        if tuple(layers) == self._held.layers:
            return QRect()
        changed = self._held.show(layers, NOT_MOVED, view, density)
        self.changed = self.changed.united(changed)
        return changed

    def place(self, view: View) -> None:
        """Find where all of it lies in another view."""
        self._preview = [(layer, covered([layer], view)) for layer, _ in self._preview]
        self._carried.place(view)
        self._held.place(view)

    def draw(self, painter: QPainter, region: QRegion, view: View) -> None:
        """Draw what lies over a region of the widget."""
        self.changed = QRect()
        if region.intersects(self._held.rect):
            self._held.draw(painter)
        shown = [layer for layer, rect in self._preview if region.intersects(rect)]
        if shown:
            paint(shown, painter, view)
        if region.intersects(self._carried.rect):
            self._carried.draw(painter)
        for draw in self.draws:
            draw(painter, region)
