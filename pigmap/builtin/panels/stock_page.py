"""A page of the plate on nets: what is asked for one deed, in place of what the plate shows else."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from pigmap.builtin.panels.form_parts import FormLine, Words
from pigmap.builtin.panels.stock_words import kind_words
from pigmap.errors import PigmapError
from pigmap.fence.holdings import kinds_in_order
from pigmap.qt.asking import Asker
from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.following import sentence
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.records import ChangeSet, Edit
from pigmap.text import Text

TARGET = 44
"""Height of what a thumb hits [px]."""
IN_A_ROW = 5
"""Buttons with a number beside each other."""


class StockPage(QWidget):
    """Asks for one edit: what cannot be is said on it, and what was typed stays to be put right."""

    ended = Signal()
    grown = Signal()

    def __init__(self, stage: Stage, title: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self._asker = Asker(stage, self)
        self.setAccessibleName(title)
        self.rows = QVBoxLayout(self)
        self.rows.setContentsMargins(0, 0, 0, 0)
        self.rows.setSpacing(6)
        self.rows.addWidget(Words(stage, "strong", self, title))
        self.labels: dict[QWidget, Words] = {}
        self.refused = Words(stage, "body", self, "", "no")

    def first(self) -> QWidget:
        """Return what has the keys first."""
        return self

    # What it is made of

    def words(self, said: str, role: str = "second") -> Words:
        """Add words."""
        made = Words(
            self.stage, "strong" if role == "strong" else "second", self, said, "ink" if role == "strong" else "ink2"
        )
        self.rows.addWidget(made)
        return made

    def line(self, label: str, typed: str = "", example: str = "", deed: Callable[[], None] | None = None) -> FormLine:
        """Add a line to type into; Enter in it does the deed of the page."""
        words = Words(self.stage, "second", self, label)
        made = FormLine(self.stage, label, self, example)
        made.setText(typed)
        made.setFixedHeight(round(TARGET * self.stage.text_scale))
        words.setBuddy(made)
        self.labels[made] = words
        made.textEdited.connect(lambda _: self.refuse(""))
        if deed is not None:
            made.returnPressed.connect(deed)
        self.rows.addWidget(words)
        self.rows.addWidget(made)
        return made

    def kinds(self, label: str) -> ChoiceBox:
        """Add a list to choose a kind from."""
        words = Words(self.stage, "second", self, label)
        made = ChoiceBox(self.stage, self)
        made.setFont(font("body", self.stage))
        made.setAccessibleName(label)
        made.setFixedHeight(round(TARGET * self.stage.text_scale))
        for kind in kinds_in_order(self.stage.session.farm):
            made.addItem(self.stage.words(kind_words(kind)), kind.uid)
        words.setBuddy(made)
        self.rows.addWidget(words)
        self.rows.addWidget(made)
        return made

    def button(self, words: str, deed: Callable[[], None]) -> WordButton:
        """Return a button, which is to be laid out yet."""
        made = WordButton(self.stage, words, parent=self)
        made.setFixedHeight(round(TARGET * self.stage.text_scale))
        made.clicked.connect(lambda: deed())
        return made

    def grid(self, buttons: Sequence[QWidget]) -> None:
        """Add small buttons in rows."""
        rows = QGridLayout()
        rows.setSpacing(6)
        for at, button in enumerate(buttons):
            rows.addWidget(button, at // IN_A_ROW, at % IN_A_ROW)
        for column in range(IN_A_ROW):
            rows.setColumnStretch(column, 1)
        self.rows.addLayout(rows)

    def end_with(self, deed: WordButton | None) -> None:
        """Add what was refused, the button that does it, and the one that leaves it."""
        self.leave = self.button(self.stage.say("Leave it"), self.ended.emit)
        below = QHBoxLayout()
        below.setSpacing(8)
        for button in filter(None, (deed, self.leave)):
            below.addWidget(button, 1)
        self.rows.addWidget(self.refused)
        self.rows.addLayout(below)

    # What it does

    def refuse(self, why: str | PigmapError, at: QWidget | None = None) -> None:
        """Say what cannot be, and go to where it can be put right."""
        self.refused.say(why if isinstance(why, str) else self.stage.words(sentence(why)))
        if at is not None and self.rows.indexOf(at) >= 0:
            self.rows.removeWidget(self.refused)
            self.rows.insertWidget(self.rows.indexOf(at) + 1, self.refused)
        self.grown.emit()
        if at is not None:
            at.setFocus(Qt.FocusReason.OtherFocusReason)

    def do(self, edit: Edit, done: Text | None = None, *, ends: bool = True) -> None:
        """Ask for an edit; say what was done and end, or say why it cannot be."""

        def ended(changes: ChangeSet | None, error: BaseException | None) -> None:
            if isinstance(error, PigmapError):
                self.refuse(error)
            elif error is not None:
                self.stage.notice(Text("This was not done: {why}", {"why": str(error)}), "refused")
            else:
                self.stage.notice(done or edit.label, deed="undo")
                if ends:
                    self.ended.emit()

        self._asker.ask(edit, ended)
