"""What the change logs of two copies of one farm file tell: the edits of each, and the conflicts of joining them."""

from __future__ import annotations

import json
import sqlite3
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from pigmap.records.frozen import dataclass
from pigmap.store.columns import Kind
from pigmap.store.log import LogRow, all_rows
from pigmap.store.rows import codec
from pigmap.store.shapes import to_blob
from pigmap.text import Text, text_from_json


class EditMade(NamedTuple):
    """One edit as its file names it."""

    edit_id: int
    uid: str
    made_at: str
    made_by: str
    computer: str
    label: str
    """As JSON."""
    undoes: str | None
    came_with: str | None
    """The edit that brought it from another copy; its own changes are part of that one's."""
    can_undo: bool

    @property
    def name(self) -> str:
        """Its uid in the copy in which it was made; what came, was taken back and came again has more than one."""
        return self.uid.partition(_AGAIN)[0]


_AGAIN = "+"
"""Before the number of times that an edit had come already and was taken back."""


@dataclass(frozen=True, slots=True)
class CopyLog:
    """All that the change log of one copy tells."""

    document_uid: str
    edits: tuple[EditMade, ...]
    """Oldest first."""
    rows: Mapping[int | None, tuple[LogRow, ...]]
    """Changes of each edit by its number in this file; under None those of other software."""
    written_at: Mapping[int, str]
    """When other software made its changes, by the number of the log row."""


class Conflict(NamedTuple):
    """Something that was changed in both copies, with the value that stands and the one that does not."""

    table: str
    uid: str
    column: str
    """Empty where the whole row is in question."""
    kept: str | None
    """As JSON."""
    other: str | None
    kept_edit: str
    other_edit: str


class OpenConflict(NamedTuple):
    """A conflict that a person has yet to look at."""

    number: int
    conflict: Conflict


def copy_log(db: sqlite3.Connection) -> CopyLog:
    """Return the change log of a file as joining it with a copy needs it."""
    (document_uid,) = db.execute("SELECT document_uid FROM pigmap_document").fetchone()
    edits = tuple(
        EditMade(number, uid, at, who, computer, label, undoes, came_with, bool(can_undo))
        for number, uid, at, who, computer, label, undoes, came_with, can_undo in db.execute(
            "SELECT edit_id, edit_uid, made_at_utc, made_by, computer, label, undoes_edit_uid, came_with_edit_uid, "
            "can_undo FROM pigmap_edits ORDER BY edit_id"
        )
    )
    rows: dict[int | None, list[LogRow]] = {}
    for row in all_rows(db):
        rows.setdefault(row.edit_id, []).append(row)
    written = dict(db.execute("SELECT change_id, written_at_utc FROM pigmap_changes WHERE edit_id IS NULL"))
    return CopyLog(document_uid, edits, {edit_id: tuple(each) for edit_id, each in rows.items()}, written)


def take_in(db: sqlite3.Connection, with_uid: str, edits: Iterable[EditMade], conflicts: Iterable[Conflict]) -> None:
    """Note which edits of a copy came with one of this file, and what was changed in both.

    Their changes are part of that one's; their names keep them from coming a second time.
    """
    came = Counter(uid.partition(_AGAIN)[0] for (uid,) in db.execute("SELECT edit_uid FROM pigmap_edits"))
    db.executemany(
        "INSERT INTO pigmap_edits (edit_uid, made_at_utc, made_by, computer, label, came_with_edit_uid, can_undo) "
        "VALUES (?, ?, ?, ?, ?, ?, 0)",
        [(_as(each.name, came), each.made_at, each.made_by, each.computer, each.label, with_uid) for each in edits],
    )
    db.executemany(
        "INSERT INTO pigmap_conflicts (table_name, row_uid, column_name, kept_json, other_json, kept_edit_uid, "
        "other_edit_uid) VALUES (?, ?, ?, ?, ?, ?, ?)",
        [tuple(each) for each in conflicts],
    )


def _as(name: str, came: Counter[str]) -> str:
    """Return the uid under which an edit is noted that may have come before."""
    return f"{name}{_AGAIN}{came[name]}" if came[name] else name


def open_conflicts(db: sqlite3.Connection) -> list[OpenConflict]:
    """Return the conflicts that nobody has settled, oldest first."""
    return [
        OpenConflict(number, Conflict(*row))
        for number, *row in db.execute(
            "SELECT conflict_id, table_name, row_uid, column_name, kept_json, other_json, kept_edit_uid, "
            "other_edit_uid FROM pigmap_conflicts WHERE settled_on IS NULL ORDER BY conflict_id"
        )
    ]


def settle(db: sqlite3.Connection, numbers: Sequence[int], made_by: str) -> None:
    """Note that a person has looked at conflicts."""
    db.executemany(
        "UPDATE pigmap_conflicts SET settled_on = strftime('%Y-%m-%dT%H:%M:%fZ', 'now'), settled_by = ? "
        "WHERE conflict_id = ?",
        [(made_by, number) for number in numbers],
    )


def label_of(edit: EditMade) -> Text:
    """Return what an edit is called."""
    return text_from_json(edit.label)


def as_json(table: str, column: str, value: Any) -> str | None:
    """Return a value of a record as the change log writes it; None where there is none."""
    if value is None:
        return None
    found = next(each for each in codec(table).columns if each.name == column)
    stored = to_blob(value, 0).hex() if found.kind is Kind.SHAPE else found.to_row(value)
    return json.dumps(stored, ensure_ascii=False)
