"""Every row of the farm tables against what the change log tells of it.

SQLite does the comparing, as text and without holding the interpreter, wherever a row was only ever added; the others
are replayed one by one.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator
from typing import Any

from pigmap.store import log
from pigmap.store.columns import Column, Kind
from pigmap.store.log import LogRow
from pigmap.store.migrations import version_of
from pigmap.store.naming import column_word, table_word
from pigmap.store.rows import codec
from pigmap.store.schema import row_as_json, table_columns, usual
from pigmap.store.tables import RULES
from pigmap.text import Text

Row = dict[str, Any]

_SO = {"so": Text("It was changed elsewhere without the log, or the disk lost something.")}


def replay(db: sqlite3.Connection) -> dict[str, dict[str, Row]]:
    """Return the rows of every table, by uid, as the change log alone tells them; values as JSON has them."""
    return replayed(log.all_rows(db))


def replayed(told: Iterable[LogRow]) -> dict[str, dict[str, Row]]:
    """Return the rows, by table and uid, that entries of the log come to."""
    tables: dict[str, dict[str, Row]] = {}
    for row in told:
        rows = tables.setdefault(row.table, {})
        if row.after is None:
            rows.pop(row.uid, None)
        else:
            rows[row.uid] = {**rows.get(row.uid, {}), **row.after} if row.before is not None else row.after
    return tables


def table_rows(db: sqlite3.Connection, table: str) -> dict[str, Row]:
    """Return the rows of a table, by uid, in the form in which the change log has them."""
    return as_logged(table, db.execute(codec(table).select(version_of(db)[0])))


def as_logged(table: str, rows: Iterable[tuple[Any, ...]]) -> dict[str, Row]:
    """Return rows as `Codec.select` reads them, by uid, in the form in which the change log has them."""
    columns = codec(table).columns
    at = [column.name for column in columns].index("uid")
    return {
        values[at]: {
            column.name: logged(column, value)
            for column, value in zip(columns, values, strict=True)
            if column.name != "uid"
        }
        for values in rows
        if values[at] is not None
    }


def logged(column: Column, value: Any) -> Any:
    """Return a value of a table as the change log has it."""
    if column.kind is Kind.SHAPE and isinstance(value, bytes):
        return value.hex().upper()
    return value


def what_differs(table: str, told: Row, has: Row) -> list[str]:
    """Return the columns in which a row is not as the log tells it.

    The log does not tell what a column held that a later step brought: nothing was said in it.
    """
    later = {column.name: usual(column) for column in codec(table).columns if column.name in RULES[table].since}
    return [name for name, value in has.items() if {**later, **told}.get(name) != value]


def broken_link(told: Iterable[LogRow]) -> bool:
    """Whether entries about one row contradict each other: each tells what it found, and what it left."""
    now: Row | None = None
    began = False
    for entry in told:
        found = entry.before
        if began and (found is None) != (now is None):
            return True
        if not began and found is not None:
            return True
        if found and now is not None and any(name in now and now[name] != value for name, value in found.items()):
            return True
        began = True
        now = None if entry.after is None else {**(now or {}), **entry.after} if found is not None else entry.after
    return False


def differences(db: sqlite3.Connection, table: str) -> Iterator[Text]:
    """Yield every row of a table that is not as the change log tells it, and what in the log contradicts itself."""
    step, _ = version_of(db)
    columns = table_columns(RULES[table], step)
    if not columns:
        return
    for (uid,) in db.execute(_not_as_added(table, columns), {"table": table}).fetchall():
        yield from _difference(db, table, step, uid)
    for (uid,) in db.execute(_GONE.format(table=table), {"table": table}).fetchall():
        yield from _gone(db, table, uid)


def _not_as_added(table: str, columns: tuple[Column, ...]) -> str:
    """Return SQL for the uids of all rows that are not just as the only entry about them added them."""
    now = row_as_json([column for column in columns if column.name != "uid"], "t")
    return (
        f'SELECT t.uid FROM "{table}" t WHERE t.uid IS NOT NULL AND coalesce((SELECT count(*) = 1 AND '
        f"max(c.op = 'add' AND c.after_json = {now}) FROM pigmap_changes c "
        "WHERE c.row_uid = t.uid AND c.table_name = :table), 0) = 0 ORDER BY t.uid"
    )


_GONE = (
    "SELECT DISTINCT c.row_uid FROM pigmap_changes c WHERE c.table_name = :table "
    'AND NOT EXISTS (SELECT 1 FROM "{table}" t WHERE t.uid = c.row_uid) ORDER BY 1'
)


def _difference(db: sqlite3.Connection, table: str, step: int, uid: str) -> Iterator[Text]:
    values: dict[str, Any] = {"table": table_word(table), "uid": uid, **_SO}
    entries = log.rows_of_row(db, table, uid)
    told = replayed(entries).get(table, {}).get(uid)
    if told is None:
        yield Text("A row of {table} is not in the change log: {uid}. {so}", values)
        return
    has = as_logged(table, db.execute(f"{codec(table).select(step)} WHERE uid = ?", (uid,)))
    if columns := what_differs(table, told, has.get(uid, {})):
        values["columns"] = ", ".join(column_word(name) for name in columns)
        yield Text("{columns} of a row of {table} differs from the change log: {uid}. {so}", values)
    elif broken_link(entries):
        yield Text(_BROKEN, values)


def _gone(db: sqlite3.Connection, table: str, uid: str) -> Iterator[Text]:
    values: dict[str, Any] = {"table": table_word(table), "uid": uid, **_SO}
    entries = log.rows_of_row(db, table, uid)
    if uid in replayed(entries).get(table, {}):
        yield Text("A row of {table} is in the change log but not in its table: {uid}. {so}", values)
    elif broken_link(entries):
        yield Text(_BROKEN, values)


_BROKEN = "What the change log tells of a row of {table} contradicts itself: {uid}. {so}"
