"""What can be looked at in a daily check, each under its name; what is not filled in stays unsaid."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from pigmap.builtin.panels.check_typed import CheckTyped
from pigmap.builtin.panels.form_parts import FormLine, Words
from pigmap.builtin.panels.one_of import OneOf
from pigmap.drawing.tokens import ROOTING_WORDS
from pigmap.qt.stage import Stage


class CheckForm(QWidget):
    """Lines and buttons; Enter in a line records."""

    entered = Signal()
    touched = Signal()

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self._names: dict[FormLine, Words] = {}
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)
        readings = QHBoxLayout()
        readings.setSpacing(8)
        self._column.addLayout(readings)
        self.kv = self._line(stage.say("Volts, kV"), "5.5", readings)
        self.lights = self._line(stage.say("or lights"), "4", readings)
        lights = stage.say("How many lights of the tester shine, where it shows no volts")
        self.lights.setAccessibleName(lights)
        self.lights.setToolTip(lights)
        self.pigs = self._line(stage.say("Pigs"), "", readings)
        self.water = self._one_of(stage.say("Water"), (stage.say("well"), stage.say("not well")))
        self.net = self._one_of(stage.say("Bottom strand"), (stage.say("clear"), stage.say("soil on it")))
        shares = [stage.words(words) for words in ROOTING_WORDS]
        self.rooting = self._one_of(stage.say("How much is rooted"), shares, clods=True)
        self.damage = self._line(stage.say("Damage"), stage.say("such as a post broken"))
        self.note = self._line(stage.say("Note"), "")

    def _line(self, called: str, example: str, row: QHBoxLayout | None = None) -> FormLine:
        line = FormLine(self.stage, called, self, example)
        line.returnPressed.connect(self.entered)
        line.textEdited.connect(self.touched)
        self._names[line] = self._under_its_name(called, line, row)
        return line

    def _one_of(self, called: str, choices: Sequence[str], *, clods: bool = False) -> OneOf:
        row = OneOf(self.stage, called, choices, self, clods=clods)
        row.changed.connect(self.touched)
        self._under_its_name(called, row, None)
        return row

    def _under_its_name(self, called: str, widget: QWidget, row: QHBoxLayout | None) -> Words:
        column = QVBoxLayout()
        column.setSpacing(2)
        name = Words(self.stage, "second", self, called, "ink2")
        name.setWordWrap(row is None)
        column.addWidget(name)
        column.addWidget(widget)
        if row is None:
            self._column.addLayout(column)
        else:
            row.addLayout(column, 1)
        return name

    def ask_for(self, pigs: int) -> None:
        """Say how many pigs there should be."""
        asked = self.stage.say("Pigs, of {count}", count=pigs) if pigs else self.stage.say("Pigs")
        self._names[self.pigs].say(asked)
        self.pigs.setAccessibleName(asked)

    def typed(self) -> CheckTyped:
        """Return what is filled in."""
        well, soil = self.water.chosen, self.net.chosen
        return CheckTyped(
            self.kv.text(),
            self.pigs.text(),
            None if well is None else well == 0,
            None if soil is None else soil == 1,
            self.rooting.chosen,
            self.damage.text(),
            self.note.text(),
            self.lights.text(),
        )

    def fill(self, typed: CheckTyped) -> None:
        """Show what was typed before; an empty one unsays all of it."""
        self.kv.setText(typed.kv)
        self.lights.setText(typed.lights)
        self.pigs.setText(typed.pigs)
        self.damage.setText(typed.damage)
        self.note.setText(typed.note)
        self.water.choose(None if typed.water_ok is None else 1 - typed.water_ok)
        self.net.choose(None if typed.soil_on_net is None else int(typed.soil_on_net))
        self.rooting.choose(typed.rooting)
