"""How a group is kept, told in its card's place: water and feed in front, the rest under More."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.kept_typed import KeptTyped, kept_of
from pigmap.builtin.panels.told_form import ToldForm
from pigmap.document.edits import amend
from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Stage
from pigmap.records import Edit, Group
from pigmap.text import Text


class KeptForm(ToldForm):
    """What is left empty is not known, and counts as usual."""

    def __init__(self, stage: Stage, group: Group, parent: QWidget) -> None:
        super().__init__(stage, stage.say("Feed and water of {group}", group=group.name), parent)
        self._group = group
        told, us = kept_of(group, stage.units), stage.units == "us"
        not_known = stage.say("not known")
        usual = stage.say("as usual")
        litres = "Water carried at a time, gal" if us else "Water carried at a time, L"
        self.tank = self.add_line(stage.say(litres), told.tank, not_known)
        self.drinkers = self.add_line(stage.say("Drinkers, how many"), told.drinkers, not_known)
        carried = "Feed carried at a time, lb" if us else "Feed carried at a time, kg"
        self.feeder = self.add_line(stage.say(carried), told.feeder, not_known)
        each = "Feed of one pig a day, lb" if us else "Feed of one pig a day, kg"
        self.feed = self.add_line(stage.say(each), told.feed, usual)
        before = len(self.parts)
        goes = "They go at, lb each" if us else "They go at, kg each"
        self.target = self.add_line(stage.say(goes), told.target, not_known)
        self.share = self.add_line(stage.say("Share of a full ration, %"), told.share, "100")
        self.protein = self.add_line(stage.say("Protein in the feed, %"), told.protein, not_known)
        rings = [(stage.say("no rings"), False), (stage.say("rings in their snouts"), True)]
        self.ringed = self.add_choice(stage.say("Rings"), rings, told.ringed)
        self._quiet = self.parts[before:]
        self.more = WordButton(stage, stage.say("More: weight they go at, ration, protein, rings"), "link", self)
        self.add_end(self.more)
        self.rows.setAlignment(self.more, Qt.AlignmentFlag.AlignLeft)
        self._show_more(False)
        self.more.clicked.connect(lambda: self._show_more(True))

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return self.tank

    def _show_more(self, on: bool) -> None:
        for each in self._quiet:
            each.setVisible(on)
        self.more.setVisible(not on)
        self.grown.emit()
        if on:
            self.target.setFocus(Qt.FocusReason.OtherFocusReason)
            self.shows.emit(self.target)

    @property
    def typed(self) -> KeptTyped:
        """All that is typed and chosen."""
        return KeptTyped(
            self.tank.text(),
            self.drinkers.text(),
            self.feeder.text(),
            self.feed.text(),
            self.share.text(),
            self.protein.text(),
            self.target.text(),
            bool(self.ringed.currentData()),
        )

    def edit(self) -> Edit:
        """Return the edit of what is typed."""
        columns = self.typed.columns(self.stage.units)
        edit = amend("groups", self._group.uid, **columns)
        return Edit(Text("Feed and water of {group} written down.", {"group": self._group.name}), edit.changes)
