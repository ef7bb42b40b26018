"""The farm as it was at a moment of its history: the change log, taken back from the newest entry on."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator

from pigmap.errors import PigmapError, StoreError
from pigmap.records import TABLES, Farm, Record, RowChange
from pigmap.store import log
from pigmap.store.log import LogRow, Shown
from pigmap.store.rows import codec


def farm_as_of(db: sqlite3.Connection, farm: Farm, edit_uid: str, file: str) -> Farm:
    """Return the farm as it was once an edit was made; what other programs did before the next one belongs to later.

    Parameters
    ----------
    db
        The farm file.
    farm
        The farm as the file has it now.
    edit_uid
        The edit.
    file
        The file's name.

    Raises
    ------
    StoreError
        If there is no such edit in the file.
    """
    found = db.execute(
        "SELECT edit_id, (SELECT coalesce(max(change_id), 0) FROM pigmap_changes c WHERE c.edit_id <= e.edit_id) "
        "FROM pigmap_edits e WHERE edit_uid = ?",
        (edit_uid,),
    ).fetchone()
    if found is None:
        raise StoreError(
            "What was done then is not in the history of {file}.",
            remedy="Look at its history anew: another copy of the farm may lie in its place.",
            file=file,
        )
    return farm.after(_back(farm, log.rows_after(db, found[1])))


def _back(farm: Farm, rows: list[LogRow]) -> Iterator[RowChange]:
    """Yield the changes that take entries of the log back, the newest first."""
    shown = Shown(farm)
    for row in reversed(rows):
        if row.table not in TABLES:
            continue  # of a newer program
        now = shown.row(row.table, row.uid)
        before = _before(row, now)
        shown.put(row.table, row.uid, before)
        if now != before:
            yield RowChange(now, before)


def _before(row: LogRow, now: Record | None) -> Record | None:
    if row.before is None:
        return None
    try:
        if row.after is None:
            return codec(row.table).made(row.uid, row.before)
        return now and codec(row.table).changed(now, row.before)
    except (PigmapError, ValueError, TypeError):
        return None  # other software wrote it so that no record can hold it
