"""What feeds a fence, and the volts of an overhead line, told in the card's place."""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QCheckBox, QWidget

from pigmap.builtin.panels.card_field import CardField
from pigmap.builtin.panels.told_form import ToldForm
from pigmap.builtin.panels.typed_numbers import number
from pigmap.document.edits import amend, feed_paddock
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.fed_by import NOT_ELECTRIC, fence_choices, paddock_choices
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.records import Edit, Paddock, Way, WayKind
from pigmap.text import Text


class FeedForm(ToldForm):
    """One list, and what belongs to it: a switch of its own, or the volts of a line."""

    fed_by: ChoiceBox
    own_switch: QCheckBox
    volts: CardField

    def __init__(self, stage: Stage, row: Way | Paddock, parent: QWidget) -> None:
        self._row = row
        self._overhead = isinstance(row, Way) and row.kind is WayKind.OVERHEAD_LINE
        super().__init__(stage, stage.say("Its volts" if self._overhead else "What feeds it"), parent)
        if isinstance(row, Paddock):
            self.fed_by = self.add_choice(stage.say("Fed by"), paddock_choices(stage), row.energizer_uid or "")
            self.own_switch = QCheckBox(stage.say("It can be switched off alone"), self)
            self.own_switch.setChecked(row.own_switch)
            self.own_switch.setFont(font("body", stage))
            self.rows.addWidget(self.own_switch)
        elif self._overhead:
            typed = "" if row.voltage_kv is None else f"{row.voltage_kv:g}"
            example = stage.say("not known: the widest distance is kept")
            self.volts = self.add_line(stage.say("Voltage, kV"), typed, example)
        else:
            fed_by = (row.energizer_uid or "") if row.electric else NOT_ELECTRIC
            self.fed_by = self.add_choice(stage.say("Fed by"), fence_choices(stage), fed_by)
        self.add_end()

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return self.volts if self._overhead else self.fed_by

    def edit(self) -> Edit:
        """Return the edit of what is chosen or typed."""
        row = self._row
        if isinstance(row, Paddock):
            fed_by = str(self.fed_by.currentData() or "")
            return feed_paddock(row.uid, fed_by or None, own_switch=self.own_switch.isChecked())
        columns: dict[str, Any]
        if self._overhead:
            typed = self.volts.text().lower().removesuffix("kv")
            columns = {"voltage_kv": number(Text("The voltage"), typed, "11") if typed.strip() else None}
        else:
            chosen = str(self.fed_by.currentData() or "")
            electric = chosen != NOT_ELECTRIC
            columns = {"electric": electric, "energizer_uid": (chosen or None) if electric else None}
        name = row.name or str(row.kind).capitalize()
        return Edit(Text("{way} changed.", {"way": name}), amend("ways", row.uid, **columns).changes)
