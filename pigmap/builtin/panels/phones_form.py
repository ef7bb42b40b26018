"""Whom to ring when pigs are out, for the card in the pocket."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.told_form import ToldForm
from pigmap.document.edits import change_setting
from pigmap.qt.stage import Stage
from pigmap.records import Edit
from pigmap.records.phones import PHONES, phones_of

LINES = 5


class PhonesForm(ToldForm):
    """A few lines, each with a name and a number; all empty, the card has lines to fill in by hand."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, stage.say("Whom to ring"), parent)
        typed = phones_of(stage.session.farm)
        self.lines = [
            self.add_line(
                stage.say("Name and number {count}", count=at + 1),
                typed[at] if at < len(typed) else "",
                stage.say("such as Vet, and the number") if at == 0 else "",
            )
            for at in range(LINES)
        ]
        self.add_end()

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return self.lines[0]

    def edit(self) -> Edit:
        """Return the edit of what is typed."""
        typed = [line.text().strip() for line in self.lines if line.text().strip()]
        return change_setting(PHONES, typed or None)
