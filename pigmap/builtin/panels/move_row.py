"""One move in the list of a day: its number, whose it is, from where to where, and the nets."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from pigmap.builtin.panels.moves_words import MoveWords
from pigmap.qt.buttons import Button
from pigmap.qt.group_sign import draw_group_sign
from pigmap.qt.paintwork import Right, line_height, plate, rule, wrapped_height, write, write_wrapped
from pigmap.qt.stage import Picked, Stage
from pigmap.qt.theme import RADIUS_PANEL, font, tokens

PAD = 12
SIGN = 30
BROAD = 560
"""From this breadth on, as in a narrow window, what is said of the nets stands in one line [px]."""


class MoveRow(Button):
    """Pressing it picks the paddock that the group goes to, and shows it."""

    def __init__(self, stage: Stage, words: MoveWords, parent: QWidget) -> None:
        super().__init__(stage, parent)
        self.words = words
        self.setCheckable(True)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(words.spoken)
        self.clicked.connect(lambda: stage.pick(Picked("paddocks", self.words.uid)))

    def nextCheckState(self) -> None:
        """Stay as it is when pressed: what is picked marks it."""

    def high_at(self, width: int) -> int:
        """Return the height it takes in a breadth [px]."""
        inner = width - 2 * PAD
        body, second = font("body", self.stage), font("second", self.stage)
        way = wrapped_height(self.words.way, body, inner)
        lines = sum(wrapped_height(each, second, inner) + 2 for each in self._lines(width))
        return round(2 * PAD + self._head() + 6 + way + 8 + lines)

    def _lines(self, width: int) -> tuple[str, ...]:
        lines = self.words.lines
        return (", ".join(lines),) if lines and width >= BROAD else lines

    def _head(self) -> float:
        return max(SIGN, line_height(font("heading", self.stage)))

    def sizeHint(self) -> QSize:
        """Return its usual size."""
        return QSize(240, self.high_at(240))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw it."""
        theme, words, stage = tokens(self.stage), self.words, self.stage
        with QPainter(self) as painter:
            edge, wide = (theme.ink, 2.2) if self.isChecked() else (theme.edge if self.hovered else theme.line, 1.0)
            plate(painter, QRectF(self.rect()), theme.plate, edge, width=wide, radius=RADIUS_PANEL)
            box = QRectF(self.rect()).adjusted(PAD, PAD, -PAD, -PAD)
            heading, body, second = font("heading", stage), font("body", stage), font("second", stage)
            sign = QRectF(box.x(), box.y() + (self._head() - SIGN) / 2, SIGN, SIGN)
            dark = theme.edge if theme.name == "dark" else ""
            draw_group_sign(painter, sign, words.colour_index, words.letter, heading, edge=dark)
            line = QRectF(box.x() + SIGN + 10, box.y(), box.width() - SIGN - 10, self._head())
            write(painter, line.adjusted(0, 0, -24, 0), words.group, heading, theme.ink)
            write(painter, line, str(words.number), heading, theme.ink2, Right)
            y = box.y() + self._head() + 6
            write_wrapped(painter, QRectF(box.x(), y, box.width(), 200), words.way, body, theme.ink)
            y += wrapped_height(words.way, body, box.width()) + 4
            rule(painter, box.x(), box.right(), y, theme.line)
            y += 4
            for each in self._lines(self.width()):
                high = wrapped_height(each, second, box.width())
                write_wrapped(painter, QRectF(box.x(), y, box.width(), high), each, second, theme.ink2)
                y += high + 2
