"""A plate that lies on the map: it keeps pointer and wheel to itself, and has the one soft shadow."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QWidget

from pigmap.qt.kept_picture import KeptPicture
from pigmap.qt.paintwork import SHADOW, plate, shadow
from pigmap.qt.stage import Stage
from pigmap.qt.theme import RADIUS_PANEL, tokens


class MapPlate(QWidget):
    """Ground of a panel over the map; its content keeps `SHADOW` pixels off the edges."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self._ground = KeptPicture()
        self.setCursor(Qt.CursorShape.ArrowCursor)
        stage.theme_changed.connect(self.update)

    def plate_box(self) -> QRectF:
        """Return the plate's box within the widget."""
        return QRectF(self.rect()).adjusted(SHADOW, SHADOW, -SHADOW, -SHADOW)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Show shadow and plate."""
        self._ground.show(self, (self.stage.theme,), self._draw_ground)

    def _draw_ground(self, painter: QPainter) -> None:
        theme = tokens(self.stage)
        shadow(painter, self.plate_box(), RADIUS_PANEL)
        edge = theme.line if theme.name == "dark" else ""
        plate(painter, self.plate_box(), theme.plate, edge, radius=RADIUS_PANEL)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Keep it from the map."""
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Keep it from the map."""
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Keep it from the map."""
        event.accept()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Keep it from the map."""
        event.accept()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Keep it from the map."""
        event.accept()
