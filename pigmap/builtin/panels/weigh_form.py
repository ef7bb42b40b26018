"""Weigh or count a group in its card's place: the day, how many pigs there are, what one weighs."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from pigmap.animals.weight import live_weight
from pigmap.builtin.panels.card_field import CardField
from pigmap.builtin.panels.told_form import ToldForm
from pigmap.builtin.panels.weigh_typed import BY_WORDS, FEWER, MORE, WeighTyped, last_way, odd, weighed
from pigmap.errors import EditError
from pigmap.qt.stage import Stage
from pigmap.records import Edit, Group, GroupEventKind, WeighedBy
from pigmap.text import Text


class WeighForm(ToldForm):
    """What is odd is said and taken all the same when it is pressed again; what cannot be stays typed."""

    def __init__(self, stage: Stage, group: Group, parent: QWidget) -> None:
        super().__init__(stage, stage.say("Weigh or count"), parent)
        self._group = group
        self._was = live_weight(stage.session.farm, group.uid, stage.day).pigs
        self._doubted: tuple[Text, ...] = ()
        kilograms = "About how heavy, lb each" if stage.units == "us" else "About how heavy, kg each"
        self.day = self._line(stage.say("Day"), min(stage.day, stage.today).isoformat())
        self.pigs = self._line(stage.say("How many pigs"), str(self._was))
        self.why = self.add_choice(stage.say("What of the others"), (), None)
        self._why_label = self.parts[-2]
        self.weight = self._line(stage.say(kilograms), "", stage.say("not weighed"))
        ways = [(stage.words(words), by) for by, words in BY_WORDS.items()]
        self.by = self.add_choice(stage.say("How that was found"), ways, last_way(stage.session.farm, group.uid))
        self.add_end()
        self._look_again()

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return self.weight

    def _line(self, label: str, typed: str, example: str = "") -> CardField:
        line = self.add_line(label, typed, example)
        line.textEdited.connect(self._look_again)
        return line

    def _look_again(self, *_: object) -> None:
        """Ask what happened to the others where the number is another one."""
        self._doubted = ()
        self.said.say("")
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
        by = WeighedBy(self.by.currentData())
        return WeighTyped(self.day.text(), self.pigs.text(), self.weight.text(), why, self._was, by)

    def entered(self, *_: object) -> None:
        """Write it down, as the button does; what is out of the ordinary only the button takes."""
        if self._doubted:
            self.shows.emit(self.take)
        else:
            self.take_it()

    def edit(self) -> Edit:
        """Return the edit of what is typed."""
        given = weighed(self._typed(), self.stage.units, self.stage.today)
        return Edit(given.words(self._group), given.edit(self._group.uid).changes)

    def take_it(self, *_: object) -> None:
        """Write it down; what is out of the ordinary is said first."""
        stage, group = self.stage, self._group
        try:
            given = weighed(self._typed(), stage.units, stage.today)
        except EditError as error:
            self.refuse(error)
            return
        found = odd(stage.session.farm, group, given, stage.today)
        if found and found != self._doubted:
            self._doubted = found
            self.said.say(" ".join(stage.words(each) for each in found))
            self.take.setText(stage.say("Write it down as it is"))
            self.take.setAccessibleName(self.take.text())
            self.grown.emit()
            if self.take.hasFocus():  # a second Enter would write it down
                self.weight.setFocus(Qt.FocusReason.OtherFocusReason)
            self.shows.emit(self.take)
            return
        super().take_it()
