"""Weigh or count a group in its card's place: the day, how many pigs there are, what one weighs."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from pigmap.animals.weight import live_weight
from pigmap.builtin.panels.card_field import CardField
from pigmap.builtin.panels.form_parts import Words, high_at
from pigmap.builtin.panels.weigh_typed import FEWER, MORE, WeighTyped, odd, weighed
from pigmap.errors import EditError
from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.following import sentence, tell
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.records import Edit, Group, GroupEventKind
from pigmap.text import Text

TARGET = 44
"""Height of what a thumb hits [px]."""


class WeighForm(QWidget):
    """What is odd is said and taken all the same when it is pressed again; what cannot be stays typed."""

    ended = Signal()
    grown = Signal()
    """It asks for another height."""
    shows = Signal(QWidget)
    """A part of it is to be seen."""

    def __init__(self, stage: Stage, group: Group, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage, self._group = stage, group
        self._was = live_weight(stage.session.farm, group.uid, stage.day).pigs
        self._doubted: tuple[Text, ...] = ()
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setSpacing(4)
        self.head = Words(stage, "title", self, stage.say("Weigh or count"))
        self._rows.addWidget(self.head)
        kilograms = "About how heavy, lb each" if stage.units == "us" else "About how heavy, kg each"
        self.day = self._line(stage.say("Day"), min(stage.day, stage.today).isoformat())
        self.pigs = self._line(stage.say("How many pigs"), str(self._was))
        self.why = ChoiceBox(stage, self)
        self.why.setFont(font("body", stage))
        self._why_label = self._with_label(stage.say("What of the others"), self.why)
        self.weight = self._line(stage.say(kilograms), "", stage.say("not weighed"))
        self._said = Words(stage, "second", self, colour="warn")
        self._rows.addWidget(self._said)
        self.take = WordButton(stage, stage.say("Write it down"), parent=self)
        self.leave = WordButton(stage, stage.say("Leave it"), parent=self)
        below = QHBoxLayout()
        below.setSpacing(8)
        for widget in (self.take, self.leave, self.why):
            widget.setFixedHeight(round(TARGET * stage.text_scale))
        below.addWidget(self.take, 1)
        below.addWidget(self.leave, 1)
        self._rows.addLayout(below)
        self._rows.addStretch(1)
        self.take.clicked.connect(self._take)
        self.leave.clicked.connect(self.ended)
        self._look_again()

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return self.weight

    def _line(self, label: str, typed: str, example: str = "") -> CardField:
        line = CardField(self)
        line.setText(typed)
        line.setPlaceholderText(example)
        line.setFont(font("body", self.stage))
        line.setFixedHeight(round(TARGET * self.stage.text_scale))
        line.taken.connect(self._enter)
        line.dropped.connect(self.ended)
        line.textEdited.connect(self._look_again)
        self._with_label(label, line)
        line.show()
        return line

    def _with_label(self, label: str, widget: QWidget) -> QLabel:
        words = QLabel(label, self)
        words.setFont(font("second", self.stage))
        words.setBuddy(widget)
        widget.setAccessibleName(label)
        for each in (words, widget):
            self._rows.addWidget(each)
        return words

    def _look_again(self, *_: object) -> None:
        """Ask what happened to the others where the number is another one."""
        self._doubted = ()
        self._said.say("")
        self.take.setText(self.stage.say("Write it down"))
        now = int(self.pigs.text()) if self.pigs.text().strip().isdecimal() else self._was
        choices = MORE if now > self._was else FEWER
        for part in (self.why, self._why_label):
            part.setVisible(now != self._was)
        if [self.why.itemData(at) for at in range(self.why.count())] != [kind for kind, _ in choices]:
            self.why.clear()
            for kind, words in choices:
                self.why.addItem(self.stage.words(words), kind)
        self.grown.emit()

    def _typed(self) -> WeighTyped:
        kind = self.why.currentData()
        why = GroupEventKind(kind) if kind else None
        return WeighTyped(self.day.text(), self.pigs.text(), self.weight.text(), why, self._was)

    def _enter(self) -> None:
        """Write it down, as the button does; what is out of the ordinary only the button takes."""
        if self._doubted:
            self.shows.emit(self.take)
        else:
            self._take()

    def _take(self, *_: object) -> None:
        stage, group = self.stage, self._group
        try:
            given = weighed(self._typed(), stage.units, stage.today)
        except EditError as error:
            self._said.say(stage.words(sentence(error)))
            self.grown.emit()
            self.shows.emit(self._said)
            return
        found = odd(stage.session.farm, group, given, stage.today)
        if found and found != self._doubted:
            self._doubted = found
            self._said.say(" ".join(stage.words(each) for each in found))
            self.take.setText(stage.say("Write it down as it is"))
            self.take.setAccessibleName(self.take.text())
            self.grown.emit()
            if self.take.hasFocus():  # a second Enter would write it down
                self.weight.setFocus(Qt.FocusReason.OtherFocusReason)
            self.shows.emit(self.take)
            return
        done = given.words(group)
        tell(stage, stage.session.do(Edit(done, given.edit(group.uid).changes)), done)
        self.ended.emit()

    def high_at(self, width: int) -> int:
        """Return the height it takes at a breadth [px]."""
        return high_at(self, width)
