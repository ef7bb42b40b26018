"""How long the move of a group took, told in its card's place."""

from __future__ import annotations

from datetime import timedelta

from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.card_facts import CardDeed
from pigmap.builtin.panels.told_form import ToldForm
from pigmap.builtin.panels.typed_numbers import number, whole_number
from pigmap.document.edits import tell_move_time
from pigmap.errors import EditError
from pigmap.qt.stage import Stage
from pigmap.records import Edit, Farm, Group, MoveDone, Stay, StayState
from pigmap.text import Text

TOOK = "took"
_REMEMBERED = timedelta(days=1)
"""So long after a move it is asked for. Own choice."""


def moved_lately(stage: Stage, group: Group) -> Stay | None:
    """Return the stay with which a group's move of today or yesterday began, None where it has not moved."""
    begun = [
        stay
        for stay in stage.session.farm.stays.values()
        if stay.group_uid == group.uid
        and stay.state is StayState.RUNNING
        and stage.today - _REMEMBERED <= stay.in_on <= stage.today
    ]
    return max(begun, key=lambda stay: (stay.in_on, stay.uid), default=None)


def took_deed(stage: Stage, group: Group) -> tuple[CardDeed, ...]:
    """Return the deed that tells how long a move took, for as long as people remember it."""
    stay = moved_lately(stage, group)
    if stay is None or stage.session.read_only or told_of(stage.session.farm, stay) is not None:
        return ()
    return (
        CardDeed(TOOK, stage.say("How long it took"), stage.say("How long the move of {group} took", group=group.name)),
    )


def told_of(farm: Farm, stay: Stay) -> MoveDone | None:
    """Return what was told of the move with which a stay began."""
    return next((each for each in farm.moves.values() if each.to_stay_uid == stay.uid), None)


class TookForm(ToldForm):
    """Minutes by the clock, and how many people."""

    def __init__(self, stage: Stage, group: Group, parent: QWidget) -> None:
        super().__init__(stage, stage.say("How long the move took"), parent)
        self._stay = moved_lately(stage, group)
        self._name = group.name
        last = max(stage.session.farm.moves.values(), key=lambda each: (each.done_on, each.uid), default=None)
        people = last.people if last is not None and last.people else 1
        self.minutes = self.add_line(stage.say("Minutes, feed and huts not counted"), "", stage.say("such as 35"))
        self.people = self.add_line(stage.say("How many people"), str(people))
        self.add_end()

    @property
    def first(self) -> QWidget:
        """What has the keys first."""
        return self.minutes

    def edit(self) -> Edit:
        """Return the edit of what is typed."""
        if self._stay is None:
            raise EditError(
                "{group} have not moved today or yesterday.",
                remedy="Record that they moved first.",
                group=self._name,
            )
        minutes = number(Text("The time"), self.minutes.text(), "35")
        people = whole_number(Text("The number of people"), self.people.text(), 1, 50, 2)
        MoveDone(
            to_stay_uid=self._stay.uid, done_on=self._stay.in_on, minutes=minutes, people=people
        )  # or it cannot be
        told = tell_move_time(self._stay.uid, minutes, people)
        values = {"group": self._name, "minutes": f"{minutes:g}"}
        return Edit(Text("The move of {group} took {minutes} minutes.", values), told.changes)
