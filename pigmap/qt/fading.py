"""Other colours of the ground fade in: the picture of before lies over the new one, ever fainter."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, QRectF
from PySide6.QtGui import QPainter, QPixmap, QRegion

from pigmap.qt import motion
from pigmap.qt.motion import FADE_MS, Motion

if TYPE_CHECKING:
    from pigmap.qt.sliced_view import SlicedView


class Fading:
    """Keeps a picture of a map and shows it over the next one; nothing is painted anew for it."""

    def __init__(self, view: SlicedView) -> None:
        self._view = view
        self._before: QPixmap | None = None
        self._left = 0.0
        self._motion = Motion(view, self._step)

    def keep(self) -> None:
        """Keep what the map shows now, with what still fades on it."""
        view, picture = self._view, self._view.picture
        if not (motion.is_wanted() and view.isVisible() and picture.is_complete):
            self.stop()
            return
        kept = QPixmap(picture.rect.size())
        with QPainter(kept) as painter:
            picture.paint(painter, QRect(0, 0, kept.width(), kept.height()))
            painter.scale(picture.density, picture.density)
            self.draw(painter, QRegion(view.rect()))
        self._motion.stop()
        self._before, self._left = kept, 1.0

    def begin(self) -> None:
        """Let it fade, if any was kept."""
        if self._before is not None:
            self._motion.begin(FADE_MS)

    def stop(self) -> None:
        """Show the map as it is."""
        if self._before is not None:
            self._motion.stop()
            self._before = None
            self._view.update()

    def _step(self, share: float) -> None:
        self._left = 1.0 - share
        if share >= 1.0:
            self._before = None
        self._view.update()

    def draw(self, painter: QPainter, region: QRegion) -> None:
        """Draw what is left of it, in units of the widget."""
        if self._before is None:
            return
        box, density = QRectF(region.boundingRect()), self._view.picture.density
        part = QRectF(box.topLeft() * density, box.size() * density)
        painter.setOpacity(self._left)
        painter.drawPixmap(box, self._before, part)
        painter.setOpacity(1.0)
