"""A view over which tools lay layers of their own."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRect
from PySide6.QtWidgets import QWidget

from pigmap.drawing.layer import Layer
from pigmap.qt.handed_on import HandedOn
from pigmap.qt.laid_over import Draw, LaidOver


class Previewing(HandedOn):
    """What the host of tools offers for showing things; only what changes is painted again."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.over = LaidOver()
        """What lies over the map."""

    @property
    def widget(self) -> QWidget:
        """Where tools lay plates of their own over the map."""
        return self

    def preview(self, layers: Sequence[Layer]) -> None:
        """Show layers over the map until the next call."""
        self.update(self.over.show(layers, self.view))

    def carry(self, layers: Sequence[Layer], by: tuple[float, float]) -> None:
        """Show layers over the map, moved by east and north [m]: painted once, however often they move."""
        self.update(self.over.carry(layers, by, self.view, self.devicePixelRatioF()))

    def hold(self, layers: Sequence[Layer]) -> None:
        """Show layers over the map where they are, painted once, while others are carried past them."""
        self.update(self.over.hold(layers, self.view, self.devicePixelRatioF()))

    @property
    def preview_layers(self) -> tuple[Layer, ...]:
        """The layers that tools lay over the map."""
        return self.over.layers

    @property
    def preview_changed(self) -> QRect:
        """What of them changed since it was painted last, in pixels of the widget."""
        return self.over.changed

    def lay_over(self, draw: Draw) -> None:
        """Have something drawn over the map, in units of the widget, where a region is painted: a scale bar."""
        self.over.draws.append(draw)
