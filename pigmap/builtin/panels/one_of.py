"""A row of buttons of which at most one is on: what was not looked at has none."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from pigmap.qt.buttons import Button
from pigmap.qt.paintwork import Middle, breadth, line_height, plate, write
from pigmap.qt.signs import Brush, draw_sign
from pigmap.qt.stage import Stage
from pigmap.qt.theme import RADIUS_BUTTON, font, tokens

HIGH = 40
SIGN = 22
"""Side of the square with clods [px]."""
PAD = 5
LEAST_SHARE = 38
"""Least share of a button in a row with clods, as if it were pixels: a thumb hits a short word too."""


class OneOf(QWidget):
    """Pressing the button that is on turns it off again; the digits choose one while the row has the focus.

    Parameters
    ----------
    called
        What is asked, for a screen reader.
    choices
        What each button says.
    clods
        Whether each button shows as many clods as there are before it, as the sign of a check does.
    """

    changed = Signal()

    def __init__(
        self, stage: Stage, called: str, choices: Sequence[str], parent: QWidget, *, clods: bool = False
    ) -> None:
        super().__init__(parent)
        self.setAccessibleName(called)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2 if clods else 4)
        self.buttons = [_One(stage, words, at if clods else None, self) for at, words in enumerate(choices)]
        for at, button in enumerate(self.buttons):
            button.setAccessibleName(stage.say("{asked}: {words}", asked=called, words=choices[at]))
            button.clicked.connect(lambda _=False, at=at: self.choose(at if self.buttons[at].isChecked() else None))
            row.addWidget(button, button.share if clods else 1)

    @property
    def chosen(self) -> int | None:
        """Number of the button that is on, from 0; None where none is."""
        return next((at for at, button in enumerate(self.buttons) if button.isChecked()), None)

    def choose(self, number: int | None) -> None:
        """Turn one button on and the others off."""
        for at, button in enumerate(self.buttons):
            button.setChecked(at == number)
        self.changed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take the digits of the buttons, from 1; the one that is on goes off."""
        at = event.key() - Qt.Key.Key_1
        if 0 <= at < len(self.buttons):
            self.choose(None if self.chosen == at else at)
            self.buttons[at].setFocus(Qt.FocusReason.OtherFocusReason)
            event.accept()
        else:
            event.ignore()


class _One(Button):
    """One of them: a word, under its clods where it has some."""

    def __init__(self, stage: Stage, words: str, clods: int | None, parent: QWidget) -> None:
        super().__init__(stage, parent)
        self._clods = clods
        self.setText(words)
        self.setToolTip(words)
        self.setCheckable(True)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)  # the row shares its room out

    @property
    def share(self) -> int:
        """Share of the row that it takes, by its longest word."""
        return max(round(max(breadth(words, font("tick", self.stage)) for words in self._lines())) + 10, LEAST_SHARE)

    def _lines(self) -> list[str]:
        return self.text().split(" ") if self._clods is not None else [self.text()]

    def sizeHint(self) -> QSize:
        """Return the room it takes."""
        face = font("tick" if self._clods is not None else "body", self.stage)
        wide = round(max(breadth(words, face) for words in self._lines())) + 2
        if self._clods is None:
            return QSize(wide + 12, max(round(HIGH * self.stage.text_scale), round(line_height(face)) + 8))
        return QSize(wide, round(PAD + SIGN + 2 * line_height(face) + PAD))

    def minimumSizeHint(self) -> QSize:
        """Return the same height in the least breadth."""
        return QSize(36, self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw plate, clods and word."""
        theme = tokens(self.stage)
        with QPainter(self) as painter:
            on = self.isChecked()
            fill = theme.ink if on else (theme.well if self.hovered else theme.plate)
            plate(painter, QRectF(self.rect()), fill, "" if on else theme.edge, width=1.4, radius=RADIUS_BUTTON)
            ink = theme.paper if on else theme.ink
            if self._clods is None:
                write(painter, QRectF(self.rect()), self.text(), font("body", self.stage), ink, Middle)
            else:
                self._draw_clods(painter, ink)

    def _draw_clods(self, painter: QPainter, ink: str) -> None:
        painter.save()
        painter.translate(self.width() / 2, PAD + SIGN / 2)
        theme = tokens(self.stage)
        draw_sign(painter, "check", Brush(SIGN, theme.ink, theme.plate, 0.0, self._clods or 0))
        painter.restore()
        face = font("tick", self.stage)
        y = PAD + SIGN + 1.0
        for words in self._lines():
            line = QRectF(0, y, self.width(), line_height(face))
            write(painter, line, words, face, ink, Middle)
            y += line_height(face)
