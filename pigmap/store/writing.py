"""One change of a row, written to its table."""

from __future__ import annotations

import sqlite3
from typing import Any

from pigmap.errors import EditError
from pigmap.records import Record, RowChange, Setting
from pigmap.records.projection import projection_changed
from pigmap.store.frame import touch, write_projection
from pigmap.store.naming import called
from pigmap.store.rows import codec


def write_row(db: sqlite3.Connection, srs_id: int, change: RowChange) -> None:
    """Add, change or remove one row, and keep the extent of its table.

    Raises
    ------
    EditError
        If the row that should be changed or removed is not there, or a value cannot be stored.
    """
    if change.before is None:
        assert change.after is not None
        db.execute(codec(change.table).insert, codec(change.table).row(change.after, srs_id))
    elif change.after is None:
        _one(db.execute(f'DELETE FROM "{change.table}" WHERE uid = ?', (change.uid,)), change.before)
    else:
        _change(db, srs_id, change.before, change.after)
    touch(db, change.table, _bounds(change.after))
    if change.table == Setting.TABLE and (projection := projection_changed(change.before, change.after)) is not None:
        write_projection(db, projection)


def _change(db: sqlite3.Connection, srs_id: int, before: Record, after: Record) -> None:
    road = codec(after.TABLE)
    old, new = road.row(before, srs_id), road.row(after, srs_id)
    changed = [(column.name, new[at]) for at, column in enumerate(road.columns) if old[at] != new[at]]
    if not changed:
        return
    named = ", ".join(f'"{name}" = ?' for name, _ in changed)
    values: list[Any] = [value for _, value in changed]
    _one(db.execute(f'UPDATE "{after.TABLE}" SET {named} WHERE uid = ?', (*values, after.uid)), before)


def _one(done: sqlite3.Cursor, row: Record) -> None:
    if done.rowcount != 1:
        raise EditError(
            "{row} is no longer there.",
            remedy="It was removed meanwhile; look at the farm as it is now.",
            row=called(row),
        )


def _bounds(row: Record | None) -> tuple[float, float, float, float] | None:
    if row is None or (shape := codec(row.TABLE).shape) is None:
        return None
    value = getattr(row, shape.attribute)
    return None if value is None or value.is_empty else value.bounds
