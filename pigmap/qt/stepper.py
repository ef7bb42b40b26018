"""A number or a day with a minus and a plus, large enough for a thumb."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from pigmap.qt.buttons import Button
from pigmap.qt.icons import paint_icon
from pigmap.qt.paintwork import Middle, line_height, plate, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import RADIUS_BUTTON, font, tokens


class _Step(Button):
    """One end of a stepper."""

    def __init__(self, stage: Stage, icon: str, words: str, parent: QWidget) -> None:
        super().__init__(stage, parent)
        self._icon = icon
        self.setAccessibleName(words)
        self.setToolTip(words)
        self.setAutoRepeat(True)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the sign."""
        theme = tokens(self.stage)
        painter = QPainter(self)
        box = QRectF(self.rect())
        plate(painter, box, theme.line if self.hovered or self.isDown() else theme.well, radius=RADIUS_BUTTON)
        square = QRectF(box.center().x() - 11, box.center().y() - 11, 22, 22)
        paint_icon(painter, self._icon, square, theme.ink)
        painter.end()


class Stepper(QWidget):
    """A label over what it steps and its two steps."""

    stepped = Signal(int)

    def __init__(self, stage: Stage, label: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self._label = label
        self._words = ""
        self._less = _Step(stage, "minus", stage.say("{label}: one less", label=label), self)
        self._more = _Step(stage, "plus", stage.say("{label}: one more", label=label), self)
        self._less.clicked.connect(lambda: self.stepped.emit(-1))
        self._more.clicked.connect(lambda: self.stepped.emit(1))
        stage.theme_changed.connect(self.update)

    @property
    def stops(self) -> tuple[QWidget, QWidget]:
        """Its two steps, in the order in which the Tab key reaches them."""
        return self._less, self._more

    def show_words(self, words: str) -> None:
        """Show what it stands at."""
        self._words = words
        self.setAccessibleName(f"{self._label}: {words}")
        self.update()

    def _box(self) -> QRectF:
        label = line_height(font("second", self.stage)) + 4
        return QRectF(0, label, self.width(), self.height() - label)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the steps out."""
        box = self._box()
        wide = min(42, (self.width() - 34) // 2)
        top, high = round(box.y()) + 4, round(box.height()) - 8
        self._less.setGeometry(4, top, wide, high)
        self._more.setGeometry(self.width() - wide - 4, top, wide, high)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the label, the frame and the number."""
        theme = tokens(self.stage)
        painter = QPainter(self)
        second = font("second", self.stage)
        write(painter, QRectF(0, 0, self.width(), line_height(second)), self._label, second, theme.ink2)
        plate(painter, self._box(), theme.plate, theme.edge, width=1.4, radius=RADIUS_BUTTON)
        write(painter, self._box(), self._words, font("heading", self.stage), theme.ink, Middle)
        painter.end()
