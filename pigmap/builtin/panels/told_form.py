"""A form in a card's place in which something is told: labelled lines and lists, what is wrong, and two buttons."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from pigmap.builtin.panels.card_field import CardField
from pigmap.builtin.panels.form_parts import Words, high_at
from pigmap.errors import PigmapError
from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.following import sentence, tell
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.records import Edit

TARGET = 44
"""Height of what a thumb hits [px]."""


class ToldForm(QWidget):
    """Enter or a button does its edit; what cannot be is said, and stays typed. Esc leaves things as they were.

    Parameters
    ----------
    title
        What is told.
    """

    ended = Signal()
    grown = Signal()
    """It asks for another height."""
    shows = Signal(QWidget)
    """A part of it is to be seen."""

    def __init__(self, stage: Stage, title: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.rows = QVBoxLayout(self)
        self.rows.setContentsMargins(0, 0, 0, 0)
        self.rows.setSpacing(4)
        self.head = Words(stage, "title", self, title)
        self.rows.addWidget(self.head)
        self.parts: list[QWidget] = []
        """All labels, lines and lists, from above."""
        self.said = Words(stage, "second", self, colour="warn")

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        raise NotImplementedError

    def edit(self) -> Edit:
        """Return the edit of what is typed; raises a `PigmapError` where it cannot be."""
        raise NotImplementedError

    def high_at(self, width: int) -> int:
        """Return the height it takes at a breadth [px]."""
        return high_at(self, width)

    def add_line(self, label: str, typed: str, example: str = "") -> CardField:
        """Add a line to type into."""
        line = CardField(self)
        line.setText(typed)
        line.setPlaceholderText(example)
        line.taken.connect(self.entered)
        line.dropped.connect(self.ended)
        self.add_labelled(label, line)
        return line

    def add_choice(self, label: str, choices: Iterable[tuple[str, Any]], chosen: Any) -> ChoiceBox:
        """Add a list to choose from: what each line says, and what it stands for."""
        box = ChoiceBox(self.stage, self)
        for words, value in choices:
            box.addItem(words, value)
        box.setCurrentIndex(max(box.findData(chosen), 0))
        self.add_labelled(label, box)
        return box

    def add_labelled(self, label: str, widget: QWidget) -> QLabel:
        """Add a widget under its label, which names it; return the label."""
        words = QLabel(label, self)
        words.setFont(font("second", self.stage))
        words.setBuddy(widget)
        widget.setAccessibleName(label)
        widget.setFont(font("body", self.stage))
        widget.setFixedHeight(round(TARGET * self.stage.text_scale))
        for each in (words, widget):
            self.rows.addWidget(each)
            self.parts.append(each)
            each.show()
        return words

    def add_end(self, *between: QWidget) -> None:
        """Add what is wrong, what stands between, and the two buttons; made last, they come last for Tab."""
        stage = self.stage
        self.take = WordButton(stage, stage.say("Write it down"), parent=self)
        self.leave = WordButton(stage, stage.say("Leave it"), parent=self)
        self.take.clicked.connect(self.take_it)
        self.leave.clicked.connect(self.ended)
        below = QHBoxLayout()
        below.setSpacing(8)
        for button in (self.take, self.leave):
            button.setFixedHeight(round(TARGET * stage.text_scale))
            below.addWidget(button, 1)
        for each in (self.said, *between):
            self.rows.addWidget(each)
        self.rows.addLayout(below)
        self.rows.addStretch(1)

    def entered(self, *_: object) -> None:
        """Take Enter in a line, as the button does."""
        self.take_it()

    def refuse(self, error: PigmapError) -> None:
        """Say what cannot be; it stays typed."""
        self.said.say(self.stage.words(sentence(error)))
        self.grown.emit()
        self.shows.emit(self.said)

    def take_it(self, *_: object) -> None:
        """Do the edit of what is typed, or say why not."""
        stage = self.stage
        try:
            edit = self.edit()
        except PigmapError as error:
            self.refuse(error)
            return
        tell(stage, stage.session.do(edit), edit.label)
        self.ended.emit()
