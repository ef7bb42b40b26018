"""The change log of a farm file, and the changes of records it tells."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator
from itertools import groupby
from typing import Any

from pigmap.errors import PigmapError
from pigmap.records import TABLES, ChangeSet, Farm, Record, RowChange
from pigmap.records.frozen import dataclass
from pigmap.store.kept_words import label_of, row_of
from pigmap.store.migrations import version_of
from pigmap.store.rows import codec, unreadable
from pigmap.text import Text

OUTSIDE = Text("Changed by another program")
"""Label of changes that no edit of this program made."""


@dataclass(frozen=True, slots=True)
class LogRow:
    """One row of the change log; values as JSON has them, `before` and `after` None where there was no row."""

    change_id: int
    edit_id: int | None
    table: str
    uid: str
    before: dict[str, Any] | None
    after: dict[str, Any] | None


@dataclass(frozen=True, slots=True)
class LogEntry:
    """What one edit, or another program, changed on the farm."""

    label: Text
    changes: ChangeSet
    edit_uid: str | None
    """None for changes made by other software."""


_ROWS = "SELECT change_id, edit_id, table_name, row_uid, before_json, after_json FROM pigmap_changes"


def rows_after(db: sqlite3.Connection, seen: int) -> list[LogRow]:
    """Return the log rows newer than the last that was seen."""
    return [_log_row(*row) for row in db.execute(f"{_ROWS} WHERE change_id > ? ORDER BY change_id", (seen,))]


def rows_of_edit(db: sqlite3.Connection, edit_uid: str) -> list[LogRow]:
    """Return the log rows of one edit in the order in which they were made."""
    wanted = f"{_ROWS} WHERE edit_id = (SELECT edit_id FROM pigmap_edits WHERE edit_uid = ?) ORDER BY change_id"
    return [_log_row(*row) for row in db.execute(wanted, (edit_uid,))]


def rows_of_row(db: sqlite3.Connection, table: str, uid: str) -> list[LogRow]:
    """Return all that the log tells of one row, oldest first."""
    wanted = f"{_ROWS} WHERE row_uid = ? AND table_name = ? ORDER BY change_id"
    return [_log_row(*row) for row in db.execute(wanted, (uid, table))]


def all_rows(db: sqlite3.Connection) -> Iterator[LogRow]:
    """Yield the whole log, oldest first."""
    return (_log_row(*row) for row in db.execute(f"{_ROWS} ORDER BY change_id"))


def last_change(db: sqlite3.Connection) -> int:
    """Return the number of the newest log row, 0 for an empty log."""
    (last,) = db.execute("SELECT coalesce(max(change_id), 0) FROM pigmap_changes").fetchone()
    return int(last)


def _log_row(
    change_id: int, edit_id: int | None, table: str, uid: str, before: str | None, after: str | None
) -> LogRow:
    return LogRow(change_id, edit_id, table, uid, row_of(before), row_of(after))


def entries(
    db: sqlite3.Connection, rows: Iterable[LogRow], farm: Farm, unread: Callable[[Text], None]
) -> Iterator[LogEntry]:
    """Yield what the rows of the log changed, edit by edit, starting from a farm as it was before them."""
    shown = Shown(farm)
    for edit_id, group in groupby(rows, key=lambda row: row.edit_id):
        changes = tuple(change for row in group if (change := _change(db, row, shown, unread)) is not None)
        label, edit_uid = OUTSIDE, None
        if edit_id is not None:
            saved, edit_uid = db.execute(
                "SELECT label, edit_uid FROM pigmap_edits WHERE edit_id = ?", (edit_id,)
            ).fetchone()
            label = label_of(saved)
        if changes:
            yield LogEntry(label, ChangeSet(changes), edit_uid)


class Shown:
    """A farm with changes laid over it, row by row, without copying it."""

    def __init__(self, farm: Farm) -> None:
        self._farm = farm
        self._over: dict[tuple[str, str], Record | None] = {}

    def row(self, table: str, uid: str) -> Record | None:
        """Return a row as it is now, None where there is none."""
        if (table, uid) in self._over:
            return self._over[table, uid]
        return self._farm.rows(table).get(uid)

    def put(self, table: str, uid: str, row: Record | None) -> None:
        """Lay a row over the farm; None removes it."""
        self._over[table, uid] = row


def _change(db: sqlite3.Connection, row: LogRow, shown: Shown, unread: Callable[[Text], None]) -> RowChange | None:
    if row.table not in TABLES:
        return None  # of a newer program: its tables are not for us
    before = shown.row(row.table, row.uid)
    try:
        after = _after(db, row, before)
    except (PigmapError, ValueError, TypeError) as error:
        unread(unreadable(row.table, row.uid, row.after, error))
        after = None
    shown.put(row.table, row.uid, after)
    if before == after:
        return None
    return RowChange(before, after)


def _after(db: sqlite3.Connection, row: LogRow, before: Record | None) -> Record | None:
    if row.after is None:
        return None
    if row.before is None:
        return codec(row.table).made(row.uid, row.after)
    if before is not None:
        return codec(row.table).changed(before, row.after)
    # Other software mended a row that could not be read before: only the table has it in full.
    found = db.execute(f"{codec(row.table).select(version_of(db)[0])} WHERE uid = ?", (row.uid,)).fetchall()
    return next(iter(codec(row.table).records(found, lambda _: None)), None)
