"""What feeds a fence, and the volts of an overhead line, told in the card's place."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from pigmap.builtin.panels.card_field import CardField
from pigmap.builtin.panels.form_parts import Words, high_at
from pigmap.builtin.panels.typed_numbers import number
from pigmap.document.edits import amend, feed_paddock
from pigmap.errors import PigmapError
from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.fed_by import NOT_ELECTRIC, fence_choices, paddock_choices
from pigmap.qt.following import sentence, tell
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.records import Edit, Paddock, Way, WayKind
from pigmap.text import Text

TARGET = 44
"""Height of what a thumb hits [px]."""


class FeedForm(QWidget):
    """One list, and what belongs to it: a switch of its own, or the volts of a line."""

    ended = Signal()
    grown = Signal()
    """It asks for another height."""
    shows = Signal(QWidget)
    """A part of it is to be seen."""

    def __init__(self, stage: Stage, row: Way | Paddock, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage, self._row = stage, row
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setSpacing(6)
        overhead = isinstance(row, Way) and row.kind is WayKind.OVERHEAD_LINE
        self.head = Words(stage, "title", self, stage.say("Its volts" if overhead else "What feeds it"))
        self._rows.addWidget(self.head)
        self.fed_by = ChoiceBox(stage, self)
        self.own_switch = QCheckBox(stage.say("It can be switched off alone"), self)
        self.volts = CardField(self)
        self._fill()
        self._said = Words(stage, "second", self, colour="warn")
        self._rows.addWidget(self._said)
        self.take = WordButton(stage, stage.say("Write it down"), parent=self)
        self.leave = WordButton(stage, stage.say("Leave it"), parent=self)
        below = QHBoxLayout()
        below.setSpacing(8)
        for button in (self.take, self.leave):
            button.setFixedHeight(round(TARGET * stage.text_scale))
            below.addWidget(button, 1)
        self._rows.addLayout(below)
        self._rows.addStretch(1)
        self.take.clicked.connect(self._take)
        self.leave.clicked.connect(self.ended)

    def _fill(self) -> None:
        stage, row = self.stage, self._row
        if isinstance(row, Paddock):
            self._offer(paddock_choices(stage), row.energizer_uid or "")
            self.own_switch.setChecked(row.own_switch)
            self.own_switch.setFont(font("body", stage))
            self._rows.addWidget(self.own_switch)
        elif row.kind is WayKind.OVERHEAD_LINE:
            self.volts.setText("" if row.voltage_kv is None else f"{row.voltage_kv:g}")
            self.volts.setPlaceholderText(stage.say("not known: the widest distance is kept"))
            self.volts.taken.connect(self._take)
            self.volts.dropped.connect(self.ended)
            self._with_label(stage.say("Voltage, kV"), self.volts)
        else:
            self._offer(fence_choices(stage), (row.energizer_uid or "") if row.electric else NOT_ELECTRIC)
        self.fed_by.setVisible(self.fed_by.count() > 0)
        self.own_switch.setVisible(isinstance(row, Paddock))

    def _offer(self, choices: list[tuple[str, str]], chosen: str) -> None:
        for words, uid in choices:
            self.fed_by.addItem(words, uid)
        self.fed_by.setCurrentIndex(max(self.fed_by.findData(chosen), 0))
        self._with_label(self.stage.say("Fed by"), self.fed_by)

    def _with_label(self, label: str, widget: QWidget) -> None:
        words = QLabel(label, self)
        words.setFont(font("second", self.stage))
        words.setBuddy(widget)
        widget.setAccessibleName(label)
        widget.setFont(font("body", self.stage))
        widget.setFixedHeight(round(TARGET * self.stage.text_scale))
        for each in (words, widget):
            self._rows.addWidget(each)
            each.show()

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return self.fed_by if self.fed_by.count() else self.volts

    def high_at(self, width: int) -> int:
        """Return the height it takes at a breadth [px]."""
        return high_at(self, width)

    def _take(self, *_: object) -> None:
        stage = self.stage
        try:
            edit = self._edit()
        except PigmapError as error:
            self._said.say(stage.words(sentence(error)))
            self.grown.emit()
            self.shows.emit(self._said)
            return
        tell(stage, stage.session.do(edit), edit.label)
        self.ended.emit()

    def _edit(self) -> Edit:
        row, chosen = self._row, str(self.fed_by.currentData() or "")
        if isinstance(row, Paddock):
            return feed_paddock(row.uid, chosen or None, own_switch=self.own_switch.isChecked())
        columns: dict[str, Any]
        if row.kind is WayKind.OVERHEAD_LINE:
            typed = self.volts.text().lower().removesuffix("kv")
            columns = {"voltage_kv": number(Text("The voltage"), typed, "11") if typed.strip() else None}
        else:
            electric = chosen != NOT_ELECTRIC
            columns = {"electric": electric, "energizer_uid": (chosen or None) if electric else None}
        name = row.name or str(row.kind).capitalize()
        return Edit(Text("{way} changed.", {"way": name}), amend("ways", row.uid, **columns).changes)
