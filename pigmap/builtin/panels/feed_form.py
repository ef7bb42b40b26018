"""What feeds a fence, and what an overhead line carries and how high it hangs, told in the card's place."""

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
    """One list, and what belongs to it: a switch of its own, or the volts and the height of a line."""

    fed_by: ChoiceBox
    own_switch: QCheckBox
    volts: CardField
    lowest: CardField
    talks: QCheckBox

    def __init__(self, stage: Stage, row: Way | Paddock, parent: QWidget) -> None:
        self._row = row
        self._overhead = isinstance(row, Way) and row.kind is WayKind.OVERHEAD_LINE
        super().__init__(stage, stage.say("Its volts and height" if self._overhead else "What feeds it"), parent)
        if isinstance(row, Paddock):
            self.fed_by = self.add_choice(stage.say("Fed by"), paddock_choices(stage), row.energizer_uid or "")
            self.own_switch = self._tick(stage.say("It can be switched off alone"), row.own_switch)
        elif self._overhead:
            self._ask_of_line(row)
        else:
            fed_by = (row.energizer_uid or "") if row.electric else NOT_ELECTRIC
            self.fed_by = self.add_choice(stage.say("Fed by"), fence_choices(stage), fed_by)
        self.add_end()

    def _ask_of_line(self, row: Way) -> None:
        stage = self.stage
        volts = "" if row.voltage_kv is None else f"{row.voltage_kv:g}"
        self.volts = self.add_line(stage.say("Voltage, kV"), volts, stage.say("not known: the widest distance is kept"))
        height = "" if row.height_m is None else f"{row.height_m:g}"
        self.lowest = self.add_line(
            stage.say("Height of the lowest wire, m"), height, stage.say("not known: nothing stands under it")
        )
        self.talks = self._tick(stage.say("It carries telephone or data, no power"), row.communication)

    def _tick(self, words: str, ticked: bool) -> QCheckBox:
        box = QCheckBox(words, self)
        box.setChecked(ticked)
        box.setFont(font("body", self.stage))
        self.rows.addWidget(box)
        return box

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
            height = self.lowest.text().lower().removesuffix("m")
            columns = {
                "voltage_kv": number(Text("The voltage"), typed, "11") if typed.strip() else None,
                "height_m": number(Text("The height"), height, "6.5") if height.strip() else None,
                "communication": self.talks.isChecked(),
            }
        else:
            chosen = str(self.fed_by.currentData() or "")
            electric = chosen != NOT_ELECTRIC
            columns = {"electric": electric, "energizer_uid": (chosen or None) if electric else None}
        name = row.name or str(row.kind).capitalize()
        return Edit(Text("{way} changed.", {"way": name}), amend("ways", row.uid, **columns).changes)
