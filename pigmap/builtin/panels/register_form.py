"""A line of the register, new or put right."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.happened_typed import Typed
from pigmap.builtin.panels.told_form import ToldForm
from pigmap.document.edits import amend, enter_in_register
from pigmap.qt.stage import Stage
from pigmap.records import Direction, Edit, RegisterEntry


class RegisterForm(ToldForm):
    """It changes the register alone: pigs of a group are bought and sold on the group's card."""

    def __init__(self, stage: Stage, row: RegisterEntry | None, parent: QWidget) -> None:
        super().__init__(stage, stage.say("A line in the register"), parent)
        self._row = row
        ways = [
            (stage.say("came onto the farm"), Direction.ON.value),
            (stage.say("left the farm"), Direction.OFF.value),
        ]
        self.way = self.add_choice(stage.say("Which way"), ways, row.direction.value if row else Direction.ON.value)
        day = row.happened_on if row is not None else min(stage.day, stage.today)
        self.day = self.add_line(stage.say("Day"), day.isoformat(), stage.today.isoformat())
        self.pigs = self.add_line(stage.say("How many pigs"), str(row.pigs) if row is not None else "")
        self.mark = self.add_line(stage.say("Mark or tag"), row.mark if row is not None else "")
        self.from_where = self.add_line(stage.say("From where"), row.from_where if row is not None else "")
        self.to_where = self.add_line(stage.say("Where to"), row.to_where if row is not None else "")
        groups = [(each.name, uid) for uid, each in stage.session.farm.groups.items()]
        chosen = (row.group_uid or "") if row is not None else ""
        self.group = self.add_choice(stage.say("Group"), [(stage.say("of no group"), ""), *groups], chosen)
        self.note = self.add_line(stage.say("Note"), row.note if row is not None else "")
        self.add_end()

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return self.way

    def edit(self) -> Edit:
        """Return the edit of what is typed."""
        typed = Typed(
            {"day": self.day.text(), "pigs": self.pigs.text()}, units=self.stage.units, today=self.stage.today
        )
        direction = Direction(str(self.way.currentData()))
        group_uid = str(self.group.currentData() or "") or None
        words = {
            "mark": self.mark.text().strip(),
            "from_where": self.from_where.text().strip(),
            "to_where": self.to_where.text().strip(),
            "note": self.note.text().strip(),
        }
        if self._row is None:
            return enter_in_register(direction, typed.on(), typed.pigs(), group_uid=group_uid, **words)
        columns = {"direction": direction, "happened_on": typed.on(), "pigs": typed.pigs(), "group_uid": group_uid}
        return amend(self._row.TABLE, self._row.uid, **columns, **words)
