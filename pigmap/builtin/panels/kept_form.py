"""How a group is kept, told in its card's place: water and feed in front, the rest under More."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from pigmap.animals.manure import SETTING, ManureSource, manure_source
from pigmap.builtin.panels.kept_typed import KeptTyped, kept_lines, kept_of
from pigmap.builtin.panels.told_form import ToldForm
from pigmap.document.edits import amend, change_setting, together
from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Stage
from pigmap.records import Edit, Group
from pigmap.text import Text

IN_FRONT = ("tank", "drinkers", "feeder", "feed")
LINES = (*IN_FRONT, "target", "share", "protein")
MANURE_WORDS: Mapping[ManureSource, Text] = MappingProxyType(
    {
        ManureSource.UK: Text("UK rules of 2008, by weight"),
        ManureSource.ASABE: Text("ASABE, from memory"),
        ManureSource.NRCS: Text("US handbook, from memory"),
        ManureSource.GERMAN: Text("German places"),
        ManureSource.BALANCE: Text("protein in the feed"),
    }
)
"""Whose figures of nitrogen count, in so few words that a list has room for them."""


class KeptForm(ToldForm):
    """What is left empty is not known, and counts as usual."""

    def __init__(self, stage: Stage, group: Group, parent: QWidget) -> None:
        super().__init__(stage, stage.say("Feed and water of {group}", group=group.name), parent)
        self._group = group
        told, lines = kept_of(group, stage.units), kept_lines(stage)
        self.lines = {name: self.add_line(lines[name][0], getattr(told, name), lines[name][1]) for name in IN_FRONT}
        before = len(self.parts)
        for name in LINES[len(IN_FRONT) :]:
            self.lines[name] = self.add_line(lines[name][0], getattr(told, name), lines[name][1])
        rings = [(stage.say("no rings"), False), (stage.say("rings in their snouts"), True)]
        self.ringed = self.add_choice(stage.say("Rings"), rings, told.ringed)
        sources = [(stage.words(words), each) for each, words in MANURE_WORDS.items()]
        self._source = manure_source(stage.session.farm)
        self.manure = self.add_choice(stage.say("Nitrogen of all groups by"), sources, self._source)
        self._quiet = self.parts[before:]
        self.more = WordButton(stage, stage.say("More: weight, ration, protein, rings, nitrogen"), "link", self)
        self.add_end(self.more)
        self.rows.setAlignment(self.more, Qt.AlignmentFlag.AlignLeft)
        self._show_more(False)
        self.more.clicked.connect(lambda: self._show_more(True))

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return self.lines["tank"]

    def _show_more(self, on: bool) -> None:
        for each in self._quiet:
            each.setVisible(on)
        self.more.setVisible(not on)
        self.grown.emit()
        if on:
            self.lines["target"].setFocus(Qt.FocusReason.OtherFocusReason)
            self.shows.emit(self.lines["target"])

    @property
    def typed(self) -> KeptTyped:
        """All that is typed and chosen."""
        tank, drinkers, feeder, feed, target, share, protein = (self.lines[name].text() for name in LINES)
        return KeptTyped(tank, drinkers, feeder, feed, share, protein, target, bool(self.ringed.currentData()))

    def edit(self) -> Edit:
        """Return the edit of what is typed."""
        columns = self.typed.columns(self.stage.units)
        edits = [amend("groups", self._group.uid, **columns)]
        chosen = ManureSource(self.manure.currentData())
        if chosen is not self._source:
            edits.append(change_setting(SETTING, chosen.value))
        return together(Text("Feed and water of {group} written down.", {"group": self._group.name}), edits)
