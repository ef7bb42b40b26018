"""An energizer in its card's place: what it gives and stands in, and what was read at it today."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.energizer_facts import energizer_of
from pigmap.builtin.panels.energizer_typed import SOIL_WORDS, SOURCE_WORDS, EnergizerTyped
from pigmap.builtin.panels.told_form import ToldForm
from pigmap.document.edits import read_energizer, tell_energizer_at, tell_energizer_of, together
from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Stage
from pigmap.records import Edit, Energizer, Group, Place, new_uid
from pigmap.text import Text
from pigmap.units import METRES_PER_FOOT


class EnergizerForm(ToldForm):
    """Output and earth stakes are in front, the rest under More; what is left empty is not known."""

    def __init__(self, stage: Stage, owner: Place | Group, parent: QWidget) -> None:
        self._owner = owner
        self._feet = METRES_PER_FOOT if stage.units == "us" else 1.0
        super().__init__(stage, _title(stage, owner), parent)
        told = energizer_of(stage, owner) or Energizer(name="new")
        self._fill(told)
        before = len(self.parts)
        self._fill_more(told)
        self._quiet = self.parts[before:]
        self.more = WordButton(stage, stage.say("More of it"), "link", self)
        self.add_end(self.more)
        self.rows.setAlignment(self.more, Qt.AlignmentFlag.AlignLeft)
        self._show_more(False)
        self.more.clicked.connect(lambda: self._show_more(True))

    def _fill(self, told: Energizer) -> None:
        stage = self.stage
        self.source = self.add_choice(stage.say("It runs on"), _said(stage, SOURCE_WORDS), told.source)
        self.output = self.add_line(stage.say("Output into 500 Ω, J"), _shown(told.output_j), "0.5")
        self.stakes = self.add_line(stage.say("Earth stakes, how many"), _shown(told.rods), "3")
        self.battery = self.add_line(stage.say("Battery today, V"), "", stage.say("not read"))

    def _fill_more(self, told: Energizer) -> None:
        stage, metric = self.stage, self.stage.units != "us"
        long = "Each stake, m" if metric else "Each stake, ft"
        self.stake_long = self.add_line(stage.say(long), _shown(told.rod_m, self._feet), "1" if metric else "3")
        self.soil = self.add_choice(stage.say("What the stakes stand in"), _said(stage, SOIL_WORDS), told.soil)
        self.earth = self.add_line(stage.say("Earth test today, kV"), "", stage.say("not read"))
        lead = "Lead-out to the fence, m" if metric else "Lead-out to the fence, ft"
        self.lead = self.add_line(stage.say(lead), _shown(told.lead_m or None, self._feet), "0")
        self.open_kv = self.add_line(stage.say("With nothing connected, kV"), _shown(told.open_kv), "9")
        self.kv_500 = self.add_line(stage.say("On 500 Ω, kV"), _shown(told.kv_500), "4")
        swap = told.swap_on.isoformat() if told.swap_on is not None else ""
        self.swap_on = self.add_line(stage.say("Next battery on"), swap, stage.today.isoformat())

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return self.output

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

    def edit(self) -> Edit:
        """Return the edit of what is typed."""
        columns = self.typed.columns(self.stage.units)
        battery_v, earth_kv = self.typed.reading()
        told = energizer_of(self.stage, self._owner)
        uid = told.uid if told is not None else new_uid()
        says = tell_energizer_of if isinstance(self._owner, Group) else tell_energizer_at
        edits = [says(self._owner.uid, uid=uid, **columns)]
        if battery_v is not None or earth_kv is not None:
            edits.append(read_energizer(uid, self.stage.today, battery_v=battery_v, earth_kv=earth_kv))
        return together(edits[0].label, edits)


def _title(stage: Stage, owner: Place | Group) -> str:
    if isinstance(owner, Group):
        return stage.say("Energizer of {group}", group=owner.name)
    return stage.say("What it gives")


def _said(stage: Stage, words: Mapping[Any, Text]) -> list[tuple[str, Any]]:
    return [(stage.words(each), value) for value, each in words.items()]


def _shown(value: float | None, per: float = 1.0) -> str:
    return "" if value is None else f"{value / per:.4g}"
