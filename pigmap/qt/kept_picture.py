"""A widget's picture, painted once for each state: what lies on the map is shown anew with every move of it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtWidgets import QWidget


class KeptPicture:
    """Paints a widget when its state differs from the last one, and copies the picture else."""

    def __init__(self) -> None:
        self._state: tuple[object, ...] = ()
        self._picture = QPixmap()

    def show(self, widget: QWidget, state: tuple[object, ...], paint: Callable[[QPainter], None]) -> None:
        """Show a widget, in its paint event.

        Parameters
        ----------
        widget
            Its size and density count as state.
        state
            All else that the picture depends on.
        paint
            Paints it, in units of the widget, on nothing.
        """
        density = widget.devicePixelRatioF()
        wanted = (widget.size(), density, *state)
        if wanted != self._state:
            self._state = wanted
            self._picture = QPixmap(widget.size() * density)
            self._picture.setDevicePixelRatio(density)
            self._picture.fill(Qt.GlobalColor.transparent)
            with QPainter(self._picture) as inner:
                paint(inner)
        with QPainter(widget) as painter:
            painter.drawPixmap(0, 0, self._picture)
