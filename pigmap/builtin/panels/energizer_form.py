"""An energizer in its card's place: what it gives and stands in, and what was read at it today."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from pigmap.builtin.panels.card_field import CardField
from pigmap.builtin.panels.energizer_facts import energizer_of
from pigmap.builtin.panels.energizer_typed import SOIL_WORDS, SOURCE_WORDS, EnergizerTyped
from pigmap.builtin.panels.form_parts import Words, high_at
from pigmap.document.edits import read_energizer, tell_energizer_at, tell_energizer_of, together
from pigmap.errors import PigmapError
from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.following import sentence, tell
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.records import Edit, Energizer, Group, Place, new_uid
from pigmap.text import Text
from pigmap.units import METRES_PER_FOOT

TARGET = 44
"""Height of what a thumb hits [px]."""


class EnergizerForm(QWidget):
    """Output and earth stakes are in front, the rest under More; what is left empty is not known."""

    ended = Signal()
    grown = Signal()
    """It asks for another height."""
    shows = Signal(QWidget)
    """A part of it is to be seen."""

    def __init__(self, stage: Stage, owner: Place | Group, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage, self._owner = stage, owner
        self._feet = METRES_PER_FOOT if stage.units == "us" else 1.0
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setSpacing(4)
        self.head = Words(stage, "title", self, self._title())
        self._rows.addWidget(self.head)
        self._fill(energizer_of(stage, owner) or Energizer(name="new"))
        self._said = Words(stage, "second", self, colour="warn")
        self._rows.addWidget(self._said)
        self.more = WordButton(stage, stage.say("More of it"), "link", self)
        self._rows.addWidget(self.more, alignment=Qt.AlignmentFlag.AlignLeft)
        self._buttons()
        self._rows.addStretch(1)
        self._show_more(False)
        self.more.clicked.connect(lambda: self._show_more(True))

    def _title(self) -> str:
        if isinstance(self._owner, Group):
            return self.stage.say("Energizer of {group}", group=self._owner.name)
        return self.stage.say("What it gives")

    def _fill(self, told: Energizer) -> None:
        stage, metric = self.stage, self.stage.units != "us"
        self.source = self._choice(stage.say("It runs on"), SOURCE_WORDS, told.source)
        self.output = self._line(stage.say("Output into 500 Ω, J"), _shown(told.output_j), "0.5")
        self.stakes = self._line(stage.say("Earth stakes, how many"), _shown(told.rods), "3")
        self.battery = self._line(stage.say("Battery today, V"), "", stage.say("not read"))
        self._quiet: list[QWidget] = []
        long = "Each stake, m" if metric else "Each stake, ft"
        self.stake_long = self._line(stage.say(long), _shown(told.rod_m, self._feet), "1" if metric else "3", more=True)
        self.soil = self._choice(stage.say("What the stakes stand in"), SOIL_WORDS, told.soil, more=True)
        self.earth = self._line(stage.say("Earth test today, kV"), "", stage.say("not read"), more=True)
        lead = "Lead-out to the fence, m" if metric else "Lead-out to the fence, ft"
        self.lead = self._line(stage.say(lead), _shown(told.lead_m or None, self._feet), "0", more=True)
        self.open_kv = self._line(stage.say("With nothing connected, kV"), _shown(told.open_kv), "9", more=True)
        self.kv_500 = self._line(stage.say("On 500 Ω, kV"), _shown(told.kv_500), "4", more=True)
        swap = told.swap_on.isoformat() if told.swap_on is not None else ""
        self.swap_on = self._line(stage.say("Next battery on"), swap, stage.today.isoformat(), more=True)

    def _buttons(self) -> None:
        self.take = WordButton(self.stage, self.stage.say("Write it down"), parent=self)
        self.leave = WordButton(self.stage, self.stage.say("Leave it"), parent=self)
        below = QHBoxLayout()
        below.setSpacing(8)
        for button in (self.take, self.leave):
            button.setFixedHeight(round(TARGET * self.stage.text_scale))
            below.addWidget(button, 1)
        self._rows.addLayout(below)
        self.take.clicked.connect(self._take)
        self.leave.clicked.connect(self.ended)

    def high_at(self, width: int) -> int:
        """Return the height it takes at a breadth [px]."""
        return high_at(self, width)

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return self.output

    def _line(self, label: str, typed: str, example: str, *, more: bool = False) -> CardField:
        line = CardField(self)
        line.setText(typed)
        line.setPlaceholderText(example)
        line.taken.connect(self._take)
        line.dropped.connect(self.ended)
        self._with_label(label, line, more=more)
        return line

    def _choice(self, label: str, words: Mapping[Any, Text], chosen: object, *, more: bool = False) -> ChoiceBox:
        box = ChoiceBox(self.stage, self)
        for value, each in words.items():
            box.addItem(self.stage.words(each), value)
        box.setCurrentIndex(max(box.findData(chosen), 0))
        self._with_label(label, box, more=more)
        return box

    def _with_label(self, label: str, widget: QWidget, *, more: bool) -> None:
        words = QLabel(label, self)
        words.setFont(font("second", self.stage))
        words.setBuddy(widget)
        widget.setAccessibleName(label)
        widget.setFont(font("body", self.stage))
        widget.setFixedHeight(round(TARGET * self.stage.text_scale))
        for each in (words, widget):
            self._rows.addWidget(each)
            each.show()
            if more:
                self._quiet.append(each)

    def _show_more(self, on: bool) -> None:
        for each in self._quiet:
            each.setVisible(on)
        self.more.setVisible(not on)
        self.grown.emit()
        if on:
            self.stake_long.setFocus(Qt.FocusReason.OtherFocusReason)
            self.shows.emit(self.stake_long)

    @property
    def typed(self) -> EnergizerTyped:
        """All that is typed and chosen."""
        return EnergizerTyped(
            self.source.currentData(),
            self.output.text(),
            self.open_kv.text(),
            self.kv_500.text(),
            self.stakes.text(),
            self.stake_long.text(),
            self.soil.currentData(),
            self.lead.text(),
            self.swap_on.text(),
            self.battery.text(),
            self.earth.text(),
        )

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
        columns = self.typed.columns(self.stage.units)
        battery_v, earth_kv = self.typed.reading()
        told = energizer_of(self.stage, self._owner)
        uid = told.uid if told is not None else new_uid()
        says = tell_energizer_of if isinstance(self._owner, Group) else tell_energizer_at
        edits = [says(self._owner.uid, uid=uid, **columns)]
        if battery_v is not None or earth_kv is not None:
            edits.append(read_energizer(uid, self.stage.today, battery_v=battery_v, earth_kv=earth_kv))
        return together(edits[0].label, edits)


def _shown(value: float | None, per: float = 1.0) -> str:
    return "" if value is None else f"{value / per:.4g}"
