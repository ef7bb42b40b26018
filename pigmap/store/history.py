"""What can be undone and done again: a cursor over the edits in the farm file."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import datetime

from pigmap.text import Text, text_from_json


@dataclass(frozen=True, slots=True)
class Step:
    """One edit on a pile: the edit that did it last, and how the first one was called."""

    edit_uid: str
    label: Text


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


class Cursor:
    """Two piles, done and undone, replayed from ``pigmap_edits`` and from nothing else.

    A plain edit goes on the done pile and clears the undone pile; one that undoes the top of done moves it to
    undone; one that undoes the top of undone moves it back. Edits of other software are not in that table and touch
    neither.
    """

    def __init__(self) -> None:
        self.done: list[Step] = []
        self.undone: list[Step] = []
        self._seen = 0

    def catch_up(self, db: sqlite3.Connection) -> None:
        """Follow the edits that came since the last call; call it outside an edit of one's own."""
        rows = db.execute(
            "SELECT edit_id, edit_uid, label, undoes_edit_uid, can_undo FROM pigmap_edits "
            "WHERE edit_id > ? ORDER BY edit_id",
            (self._seen,),
        )
        for self._seen, edit_uid, label, undoes, can_undo in rows:
            if can_undo:
                self._follow(edit_uid, label, undoes)

    def _follow(self, edit_uid: str, label: str, undoes: str | None) -> None:
        if undoes is not None and self.done and self.done[-1].edit_uid == undoes:
            self.undone.append(Step(edit_uid, self.done.pop().label))
        elif undoes is not None and self.undone and self.undone[-1].edit_uid == undoes:
            self.done.append(Step(edit_uid, self.undone.pop().label))
        else:
            self.done.append(Step(edit_uid, text_from_json(label)))
            self.undone.clear()


def history(db: sqlite3.Connection, newest: int | None = None) -> list[HistoryEntry]:
    """Return the edits, newest first; all of them, or the newest few."""
    rows = db.execute(
        "SELECT made_at_utc, made_by, computer, label, edit_uid, undoes_edit_uid FROM pigmap_edits "
        "ORDER BY edit_id DESC LIMIT ?",
        (-1 if newest is None else newest,),
    )
    return [
        HistoryEntry(datetime.fromisoformat(at), who, computer, text_from_json(label), uid, undoes)
        for at, who, computer, label, uid, undoes in rows
    ]
