"""What can be undone and done again: a cursor over the edits in the farm file."""

from __future__ import annotations

import sqlite3
from dataclasses import replace
from datetime import datetime

from pigmap.records.frozen import dataclass
from pigmap.store.kept_words import label_of, moment_of
from pigmap.text import Text


@dataclass(frozen=True, slots=True)
class Step:
    """One edit on a pile: the edit that did it last, and how the first one was called."""

    edit_id: int
    """Its number in the file: a later edit has a greater one."""
    edit_uid: str
    label: Text


@dataclass(frozen=True, slots=True)
class Reach:
    """What undo and redo would do at one moment, as a person sees it."""

    newest: int = 0
    """Number of the newest edit in the file then."""
    undo: Step | None = None
    redo: Step | None = None


@dataclass(frozen=True, slots=True)
class HistoryEntry:
    """One edit as the change log remembers it."""

    made_at: datetime
    """With its time zone: UTC."""
    made_by: str
    computer: str
    label: Text
    edit_uid: str
    undoes: str | None
    """The edit that it took back."""
    can_undo: bool = True
    """Whether it can be taken back; what belongs to the making of the farm cannot."""


class Cursor:
    """Two piles, done and undone, replayed from ``pigmap_edits`` and from nothing else.

    A plain edit goes on the done pile and clears the undone pile; one that undoes the top of done moves it to
    undone; one that undoes the top of undone moves it back. Edits of other software are not in that table and touch
    neither; nor do edits that belong to the making of the farm: what was done before them can be taken back.
    """

    def __init__(self) -> None:
        self.done: list[Step] = []
        self.undone: list[Step] = []
        self._seen = 0
        self.last_uid: str | None = None
        """The newest edit that was followed."""
        self._own: set[str] = set()
        self._stranger: Step | None = None

    def call_own(self, edit_uid: str) -> None:
        """Note that an edit is made through this file object; all others are another program's."""
        self._own.add(edit_uid)

    @property
    def reach(self) -> Reach:
        """What undo and redo would do now."""
        return Reach(self._seen, self.done[-1] if self.done else None, self.undone[-1] if self.undone else None)

    def came_between(self, seen: Reach, meant: Step | None, step: Step | None) -> Step | None:
        """Return the edit of another program that makes a step another one than a person meant to take.

        Parameters
        ----------
        seen
            What undo and redo would have done when the person asked for one of them.
        meant
            That one's step.
        step
            What it would do now; None where there is nothing.

        Returns
        -------
        Step or None
            The newest edit of another program since then; None where there was none, or where the step is the one
            that was meant or one that the person has made since.
        """
        stranger = self._stranger
        if stranger is None or stranger.edit_id <= seen.newest or step == meant:
            return None
        if step is not None and step.edit_uid in self._own and step.edit_id > stranger.edit_id:
            return None
        return stranger

    def catch_up(self, db: sqlite3.Connection) -> None:
        """Follow the edits that came since the last call; call it outside an edit of one's own."""
        rows = db.execute(
            "SELECT edit_id, edit_uid, label, undoes_edit_uid, can_undo FROM pigmap_edits "
            "WHERE edit_id > ? ORDER BY edit_id",
            (self._seen,),
        )
        for self._seen, edit_uid, label, undoes, can_undo in rows:
            self.last_uid = edit_uid
            if can_undo:
                step = self._follow(Step(self._seen, edit_uid, label_of(label)), undoes)
                if edit_uid not in self._own:
                    self._stranger = step

    def _follow(self, edit: Step, undoes: str | None) -> Step:
        for here, there in ((self.done, self.undone), (self.undone, self.done)):
            if undoes is not None and here and here[-1].edit_uid == undoes:
                there.append(replace(edit, label=here.pop().label))
                return there[-1]
        self.done.append(edit)
        self.undone.clear()
        return edit


def history(db: sqlite3.Connection, newest: int | None = None) -> list[HistoryEntry]:
    """Return the edits, newest first; all of them, or the newest few."""
    rows = db.execute(
        "SELECT made_at_utc, made_by, computer, label, edit_uid, undoes_edit_uid, can_undo FROM pigmap_edits "
        "ORDER BY edit_id DESC LIMIT ?",
        (-1 if newest is None else newest,),
    )
    return [
        HistoryEntry(moment_of(at), who, computer, label_of(label), uid, undoes, bool(can_undo))
        for at, who, computer, label, uid, undoes, can_undo in rows
    ]
