"""A number or a day with a minus and a plus, large enough for a thumb; some are lines to type into as well."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from pigmap.qt.buttons import Button
from pigmap.qt.icons import paint_icon
from pigmap.qt.kept_keys import KeptKeysLine
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
        with QPainter(self) as painter:
            box = QRectF(self.rect())
            plate(painter, box, theme.line if self.hovered or self.isDown() else theme.well, radius=RADIUS_BUTTON)
            square = QRectF(box.center().x() - 11, box.center().y() - 11, 22, 22)
            paint_icon(painter, self._icon, square, theme.ink)


class _Line(KeptKeysLine):
    """Shows what the stepper stands at, but for what is being typed; Esc drops that.

    What is typed takes the place of the number that stands there, however the line was reached.
    """

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._words = ""
        self._reached = False
        """Whether the press of the mouse that is going on is the one that reached it."""

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Select all of it."""
        super().focusInEvent(event)
        self._reached = event.reason() == Qt.FocusReason.MouseFocusReason
        self.selectAll()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Select all of it after the press that reached it."""
        super().mouseReleaseEvent(event)
        if self._reached:
            self._reached = False
            self.selectAll()

    def stand_at(self, words: str) -> None:
        """Take what the stepper stands at."""
        self._words = words
        if not (self.isModified() and self.hasFocus()):
            self.setText(words)
            if self.hasFocus():
                self.selectAll()

    def escape(self, event: QKeyEvent) -> None:
        """Go back to what it stood at; leave Esc to what lies under the line where nothing is typed."""
        if self.isModified():
            self.setText(self._words)
            event.accept()
        else:
            super().escape(event)


class Stepper(QWidget):
    """A label over what it steps and its two steps.

    Parameters
    ----------
    asked
        What stands in its line while nothing does; one without it has no line to type into.
    """

    stepped = Signal(int)
    typed = Signal(str)
    """Something else than what it stood at was typed, and taken with Enter or by going on elsewhere."""

    def __init__(self, stage: Stage, label: str, parent: QWidget, *, asked: str = "") -> None:
        super().__init__(parent)
        self.stage = stage
        self._label = label
        self._words = ""
        self.line = _Line(self) if asked else None
        if self.line is not None:
            self._dress(self.line, asked)
        self._less = _Step(stage, "minus", stage.say("{label}: one less", label=label), self)
        self._more = _Step(stage, "plus", stage.say("{label}: one more", label=label), self)
        self._less.clicked.connect(lambda: self.stepped.emit(-1))
        self._more.clicked.connect(lambda: self.stepped.emit(1))
        stage.theme_changed.connect(self.update)

    def _dress(self, line: QLineEdit, asked: str) -> None:
        line.setFrame(False)
        line.setAlignment(Qt.AlignmentFlag.AlignCenter)
        line.setMaxLength(120)
        line.setPlaceholderText(asked)
        line.setAccessibleName(self._label)
        line.setStyleSheet("QLineEdit { background: transparent; border: none; padding: 0; }")
        line.editingFinished.connect(self._take)
        line.textChanged.connect(self._make_room)

    @property
    def stops(self) -> tuple[QWidget, QWidget]:
        """Its two steps, in the order in which the Tab key reaches them."""
        return self._less, self._more

    def show_words(self, words: str) -> None:
        """Show what it stands at."""
        self._words = words
        if self.line is not None:
            self.line.stand_at(words)
        self.setAccessibleName(f"{self._label}: {words}" if words else self._label)
        self.update()

    def _make_room(self) -> None:
        """Give what is being typed the room of the steps, too."""
        typing = self.line is not None and self.line.isModified() and self.line.hasFocus()
        for step in self.stops:
            step.setVisible(not typing)
        self._lay_line(typing=typing)

    def _lay_line(self, *, typing: bool = False) -> None:
        if self.line is None:
            return
        box, wide = self._box(), 4 if typing else self._step_wide + 8
        self.line.setFont(font("strong" if typing else "heading", self.stage))
        self.line.setGeometry(wide, round(box.y()) + 4, max(self.width() - 2 * wide, 0), round(box.height()) - 8)

    @property
    def _step_wide(self) -> int:
        return min(42, (self.width() - 34) // 2)

    def _take(self) -> None:
        if self.line is not None and self.line.isModified():
            self.line.setModified(False)  # Enter and going on elsewhere both end it
            typed = self.line.text().strip()
            self._make_room()
            if typed != self._words:
                self.typed.emit(typed)

    def _box(self) -> QRectF:
        label = line_height(font("second", self.stage)) + 4
        return QRectF(0, label, self.width(), self.height() - label)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the steps out."""
        box = self._box()
        wide = self._step_wide
        top, high = round(box.y()) + 4, round(box.height()) - 8
        self._less.setGeometry(4, top, wide, high)
        self._more.setGeometry(self.width() - wide - 4, top, wide, high)
        self._lay_line()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the label, the frame and the number."""
        theme = tokens(self.stage)
        with QPainter(self) as painter:
            second = font("second", self.stage)
            write(painter, QRectF(0, 0, self.width(), line_height(second)), self._label, second, theme.ink2)
            plate(painter, self._box(), theme.plate, theme.edge, width=1.4, radius=RADIUS_BUTTON)
            if self.line is None:
                write(painter, self._box(), self._words, font("heading", self.stage), theme.ink, Middle)
