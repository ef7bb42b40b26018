"""Panels that come over the map slide in; what goes away fades, when it is gone already."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from pigmap.qt import motion
from pigmap.qt.motion import Motion


class Slide:
    """Brings one widget to its place from a little beside it."""

    def __init__(self, widget: QWidget) -> None:
        self._widget = widget
        self._by = QPoint()
        self._home = QPoint()
        self._motion = Motion(widget, self._step)

    def begin(self, by: QPoint, length_ms: int) -> None:
        """Come from so far off to where the widget lies now."""
        if motion.is_wanted():
            self._by, self._home = by, self._widget.pos()
            self._motion.begin(length_ms)

    def laid(self) -> None:
        """Take in that the widget was laid where it belongs."""
        if self._motion.running:
            self._home = self._widget.pos()

    def stop(self) -> None:
        """Stay; whoever lays the widget out says where."""
        self._motion.stop()

    def _step(self, share: float) -> None:
        self._widget.move(self._home + self._by * (1.0 - share))


class Coming:
    """Knows which panels came since the last layout, and lets those slide in."""

    def __init__(self) -> None:
        self._slides: dict[QWidget, Slide] = {}
        self._there: set[QWidget] = set()

    def laid(self, widget: QWidget, by: QPoint, length_ms: int, *, opened: bool | None = None) -> None:
        """Take in that a panel was laid out: one that was not there the last time comes from so far off.

        Of a panel that is always there `opened` tells whether it is open; open from the first on, it does not slide.
        """
        if opened and widget not in self._slides:
            self._there.add(widget)
        slide = self._slides.setdefault(widget, Slide(widget))
        if not opened if opened is not None else widget.isHidden():
            self._there.discard(widget)
            slide.stop()
        elif widget in self._there:
            slide.laid()
        else:
            self._there.add(widget)
            slide.begin(by, length_ms)


class _Going(QWidget):
    """A picture of a widget, in its place, that fades."""

    def __init__(self, widget: QWidget) -> None:
        super().__init__(widget.parentWidget())
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self._picture = widget.grab()
        self._left = 1.0
        self._motion = Motion(self, self._step)
        self.setGeometry(widget.geometry())

    def fade(self, length_ms: int) -> None:
        """Fade, and be no more."""
        self.show()
        self._motion.begin(length_ms)

    def _step(self, share: float) -> None:
        self._left = 1.0 - share
        self.update()
        if share >= 1.0:
            self.hide()
            self.deleteLater()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Show what is left of it."""
        with QPainter(self) as painter:
            painter.setOpacity(self._left)
            painter.drawPixmap(0, 0, self._picture)


def fade_out(widget: QWidget, length_ms: int) -> None:
    """Leave a picture of a widget behind that fades; hide the widget itself after this."""
    if motion.is_wanted() and widget.isVisible():
        _Going(widget).fade(length_ms)
