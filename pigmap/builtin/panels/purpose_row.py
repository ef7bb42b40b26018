"""One part of a field's year on the card: from a day to a day, what it is for, and what is wanted under More."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from pigmap.builtin.panels.card_parts import month_day_words
from pigmap.builtin.panels.form_parts import FormLine, Words
from pigmap.builtin.panels.purpose_typed import typed_month_day, typed_rest, typed_rooting
from pigmap.builtin.panels.purpose_words import USE_WORDS, source_words, wanted_words
from pigmap.document.edits import change_purpose
from pigmap.errors import EditError
from pigmap.ground.purposes import usual_rest, wanted_by
from pigmap.ground.tables import ROOTING_WELCOME
from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.following import sentence, tell
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.records import GroundCover, Purpose, Use

TARGET = 40


class PurposeRow(QWidget):
    """Each change is an edit of its own; what cannot be is said in the row and stays typed."""

    out_asked = Signal(str)
    grown = Signal()

    def __init__(self, stage: Stage, part: Purpose, cover: GroundCover, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage, self.part, self.cover = stage, part, cover
        self.first = FormLine(stage, stage.say("From this day"), self, "16 March")
        self.last = FormLine(stage, stage.say("To this day, which is part of it"), self, "30 November")
        self.use = ChoiceBox(stage, self)
        self.use.setAccessibleName(stage.say("What it is for"))
        self.use.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        for use, words in USE_WORDS.items():
            self.use.addItem(stage.words(words), use)
        self.out = WordButton(stage, stage.say("Take out"), "link", self)
        self.more = WordButton(stage, stage.say("More"), "link", self)
        self.wanted = Words(stage, "second", self, colour="ink2")
        self.said = Words(stage, "second", self, colour="no")
        self.rest = FormLine(stage, stage.say("Days of rest wanted; empty for what is usual"), self)
        self.rooting = FormLine(stage, stage.say("Rooting that is welcome, percent; empty for what is usual"), self)
        self._under = self._make_more()
        self._lay_out()
        self._connect()
        self._under.hide()
        self.show_part(part)

    def _make_more(self) -> QWidget:
        stage, under = self.stage, QWidget(self)
        rows = QVBoxLayout(under)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(4)
        for words, line in (
            (stage.say("Rest wanted, days"), self.rest),
            (stage.say("Welcome rooting, %"), self.rooting),
        ):
            row = QHBoxLayout()
            row.addWidget(Words(stage, "second", under, words, "ink2"), 3)
            row.addWidget(line, 2)
            rows.addLayout(row)
        self._source = Words(stage, "second", under, colour="ink2")
        rows.addWidget(self._source)
        return under

    def _lay_out(self) -> None:
        stage = self.stage
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(4)
        days = QHBoxLayout()
        days.setSpacing(6)
        days.addWidget(self.first, 1)
        to = Words(stage, "second", self, stage.say("to"), "ink2")
        to.setWordWrap(False)
        days.addWidget(to)
        days.addWidget(self.last, 1)
        rows.addLayout(days)
        rows.addWidget(self.use)
        rows.addWidget(self.wanted)
        links = QHBoxLayout()
        links.addWidget(self.more)
        links.addStretch(1)
        links.addWidget(self.out)
        rows.addLayout(links)
        rows.addWidget(self._under)
        rows.addWidget(self.said)
        for widget in (self.first, self.last, self.use, self.rest, self.rooting):
            widget.setFixedHeight(round(TARGET * stage.text_scale))
        self.use.setFont(font("body", stage))

    def _connect(self) -> None:
        self.first.editingFinished.connect(lambda: self._take_day(self.first, "from_month_day"))
        self.last.editingFinished.connect(lambda: self._take_day(self.last, "to_month_day"))
        self.rest.editingFinished.connect(self._take_rest)
        self.rooting.editingFinished.connect(self._take_rooting)
        self.use.activated.connect(lambda: self._change(purpose=Use(self.use.currentData())))
        self.more.clicked.connect(self._toggle)
        self.out.clicked.connect(lambda: self.out_asked.emit(self.part.uid))

    def _toggle(self) -> None:
        hidden = self._under.isHidden()
        self._under.setVisible(hidden)
        self.more.setText(self.stage.say("Less") if hidden else self.stage.say("More"))
        self.more.setAccessibleName(self.more.text())
        self.grown.emit()
        if hidden:
            self.rest.setFocus(Qt.FocusReason.OtherFocusReason)

    # What it shows

    def show_part(self, part: Purpose) -> None:
        """Show a part of the year as it is recorded now; a line that is being typed in is left alone."""
        stage = self.stage
        self.part = part
        self._fill(self.first, month_day_words(stage, part.from_month_day))
        self._fill(self.last, month_day_words(stage, part.to_month_day))
        self.use.setCurrentIndex(list(USE_WORDS).index(part.purpose))
        self.rest.setPlaceholderText(stage.say("{days}, usual", days=str(usual_rest(part.purpose, self.cover))))
        self.rooting.setPlaceholderText(
            stage.say("{share}, usual", share=str(round(100 * ROOTING_WELCOME[part.purpose])))
        )
        self._fill(self.rest, "" if part.rest_days_wanted is None else str(part.rest_days_wanted))
        self._fill(self.rooting, "" if part.rooting_wanted is None else f"{100 * part.rooting_wanted:g}")
        self.wanted.say(stage.words(wanted_words(wanted_by(part, self.cover))))
        self._source.say(stage.words(source_words(part.purpose, self.cover)))
        self.setAccessibleName(
            stage.say(
                "{first} to {last}: {use}", first=self.first.text(), last=self.last.text(), use=self.use.currentText()
            )
        )

    @staticmethod
    def _fill(line: FormLine, words: str) -> None:
        if not (line.hasFocus() and line.isModified()):
            line.setText(words)

    # What is changed

    def _take_day(self, line: FormLine, column: str) -> None:
        if not line.isModified():
            return
        try:
            day = typed_month_day(line.text(), self.stage.language)
        except EditError as error:
            self._refuse(line, error)
            return
        self._taken(line)
        line.setText(month_day_words(self.stage, day))
        self._change(**{column: day})

    def _take_rest(self) -> None:
        if not self.rest.isModified():
            return
        try:
            days = typed_rest(self.rest.text())
        except EditError as error:
            self._refuse(self.rest, error)
            return
        self._taken(self.rest)
        self._change(rest_days_wanted=days)

    def _take_rooting(self) -> None:
        if not self.rooting.isModified():
            return
        try:
            share = typed_rooting(self.rooting.text())
        except EditError as error:
            self._refuse(self.rooting, error)
            return
        self._taken(self.rooting)
        self._change(rooting_wanted=share)

    def _taken(self, line: FormLine) -> None:
        line.setModified(False)
        self.said.say("")
        self.grown.emit()

    def _refuse(self, line: FormLine, error: EditError) -> None:
        line.setModified(True)
        self.said.say(self.stage.words(sentence(error)))
        self.grown.emit()

    def _change(self, **columns: Any) -> None:
        if any(getattr(self.part, name) != value for name, value in columns.items()):
            edit = change_purpose(self.part.uid, **columns)
            tell(self.stage, self.stage.session.do(edit), edit.label)
