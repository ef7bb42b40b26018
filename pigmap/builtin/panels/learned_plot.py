"""Seen against expected: a dot for each daily check, near the line where the model was right."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from pigmap.drawing.tokens import ROOTING_WORDS
from pigmap.ground.fitting import Learned
from pigmap.qt.paintwork import Middle, Right, breadth, line_height, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens
from pigmap.text import Quantity, Text

HIGH = 150.0
TOP = 10
"""Between the words over the plot and its highest line [px]."""
DOT = 2.4
SPREAD = 5
"""Dots of one score lie on so many lines, so that fewer hide others."""


class LearnedPlot(QWidget):
    """Expected to the right, seen upwards; a screen reader is told how far off they lie."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self._learned: Learned | None = None
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setFixedHeight(round(HIGH * stage.text_scale + 3 * line_height(font("tick", stage))) + TOP + 18)
        stage.theme_changed.connect(self.update)

    def show_learned(self, learned: Learned | None) -> None:
        """Show what was learned."""
        self._learned = learned
        if learned is not None:
            name = self.stage.say(
                "Seen against expected, {count} daily checks: off by {off} of the ground",
                count=len(learned.rows),
                off=Quantity(learned.rms if learned.rms is not None else learned.rms_before, "1"),
            )
            self.setAccessibleName(name)
        self.update()

    def sizeHint(self) -> QSize:
        """Return the room it takes."""
        return QSize(300, self.height())

    def box(self) -> QRectF:
        """Return where the dots lie."""
        face = font("tick", self.stage)
        line = line_height(face)
        left = max(breadth(self.stage.words(words), face) for words in ROOTING_WORDS) + 10
        return QRectF(left, line + TOP, self.width() - left - 8, HIGH * self.stage.text_scale)

    def spots(self) -> list[tuple[QPointF, bool]]:
        """Return where each dot lies, and whether it is by the fitted numbers."""
        learned, box = self._learned, self.box()
        found: list[tuple[QPointF, bool]] = []
        for number, row in enumerate(learned.rows if learned is not None else ()):
            lift = (number % SPREAD - SPREAD // 2) * 1.6
            fitted = row.learned is not None
            expected = row.learned if row.learned is not None else row.expected
            x = box.left() + min(max(expected, 0.0), 1.0) * box.width()
            found.append((QPointF(x, box.bottom() - row.seen * box.height() + lift), fitted))
        return found

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw frame, line and dots."""
        stage, theme, face = self.stage, tokens(self.stage), font("tick", self.stage)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            box, line = self.box(), line_height(face)
            write(painter, QRectF(0, 0, self.width(), line), stage.say("Rooted, as seen"), face, theme.ink2)
            for number, words in enumerate(ROOTING_WORDS):
                y = box.bottom() - number / 4 * box.height()
                painter.setPen(QPen(QColor(theme.line), 1))
                painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
                beside = QRectF(0, y - line / 2, box.left() - 8, line)
                write(painter, beside, stage.words(words), face, theme.ink, Right)
                share = stage.words(Text("{share}", {"share": Quantity(number / 4, "1")}))
                x = box.left() + number / 4 * box.width()
                below = QRectF(min(x - 24, self.width() - 48), box.bottom() + 10, 48, line)
                write(painter, below, share, face, theme.ink, Middle)
            foot = QRectF(box.left(), box.bottom() + 12 + line, box.width(), line)
            write(painter, foot, stage.say("rooted, as expected"), face, theme.ink2, Right)
            painter.setPen(QPen(QColor(theme.plan), 1.6, Qt.PenStyle.DashLine))
            painter.drawLine(box.bottomLeft(), box.topRight())
            for spot, fitted in self.spots():
                ink = QColor(theme.ink)
                ink.setAlpha(150)
                painter.setPen(QPen(ink, 1.0))
                painter.setBrush(ink if fitted else Qt.BrushStyle.NoBrush)
                painter.drawEllipse(spot, DOT, DOT)
