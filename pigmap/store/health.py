"""Is a farm file sound: its size, its pages, its rows against the change log, its references."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from pigmap.errors import PigmapError
from pigmap.records import TABLES
from pigmap.store import log
from pigmap.store.columns import Column, Kind
from pigmap.store.connection import connect
from pigmap.store.faults import damaged, in_words
from pigmap.store.migrations import version_of
from pigmap.store.naming import column_word, table_word
from pigmap.store.opening import check_farm, check_file, check_size, first_damage
from pigmap.store.rows import codec
from pigmap.store.schema import usual
from pigmap.store.tables import RULES
from pigmap.text import Text

MOST_SHOWN = 20
"""Differences that are listed one by one; the rest is counted."""

Row = dict[str, Any]


def findings(path: Path) -> list[Text]:
    """Return all that is wrong with a farm file, empty where it is sound; the file is only read.

    It looks at size, every page, every row against what the change log tells, and at rows that point at nothing.
    Where pages are damaged the rest is not looked at.
    """
    try:
        check_file(path)
        db = connect(path, read_only=True)
    except PigmapError as error:
        return [_in_one(error)]
    except sqlite3.Error as error:
        return [_fault(error, path)]
    except UnicodeDecodeError as error:
        return [_in_one(damaged(path, error))]
    try:
        check_size(path)
        check_farm(path, db)
        if damage := first_damage(path, db):
            return [damage]
        return [*_against_log(db), *_dangling(db), *_boxes(db)]
    except PigmapError as error:
        return [_in_one(error)]
    except sqlite3.Error as error:
        return [_fault(error, path)]
    except (UnicodeDecodeError, json.JSONDecodeError) as error:
        return [_in_one(damaged(path, error))]
    finally:
        db.close()


def _in_one(error: PigmapError) -> Text:
    return Text("{message} {remedy}", {"message": error.message, "remedy": error.remedy})


def _fault(error: sqlite3.Error, path: Path) -> Text:
    said = in_words(error, path)
    return _in_one(said) if said is not None else Text("{file}: {why}", {"file": path.name, "why": str(error)})


def _against_log(db: sqlite3.Connection) -> Iterator[Text]:
    replayed = replay(db)
    found = [text for table in TABLES for text in _differences(table, replayed.get(table, {}), table_rows(db, table))]
    yield from found[:MOST_SHOWN]
    if len(found) > MOST_SHOWN:
        yield Text(
            "{count} more row differs from the change log.",
            plural="{count} more rows differ from the change log.",
            count=len(found) - MOST_SHOWN,
        )


def replay(db: sqlite3.Connection) -> dict[str, dict[str, Row]]:
    """Return the rows of every table, by uid, as the change log alone tells them; values as JSON has them."""
    tables: dict[str, dict[str, Row]] = {}
    for row in log.all_rows(db):
        rows = tables.setdefault(row.table, {})
        if row.after is None:
            rows.pop(row.uid, None)
        else:
            rows[row.uid] = {**rows.get(row.uid, {}), **row.after} if row.before is not None else row.after
    return tables


def table_rows(db: sqlite3.Connection, table: str) -> dict[str, Row]:
    """Return the rows of a table, by uid, in the form in which the change log has them."""
    columns = codec(table).columns
    step, _ = version_of(db)
    return {
        uid: {
            column.name: _logged(column, value)
            for column, value in zip(columns, values, strict=True)
            if column.name != "uid"
        }
        for values in db.execute(codec(table).select(step))
        if (uid := values[0]) is not None
    }


def _logged(column: Column, value: Any) -> Any:
    if column.kind is Kind.SHAPE and isinstance(value, bytes):
        return value.hex().upper()
    return value


def _differences(table: str, told: dict[str, Row], has: dict[str, Row]) -> Iterator[Text]:
    # The log does not tell what a column held that a later step brought: nothing was said in it.
    later = {column.name: usual(column) for column in codec(table).columns if column.name in RULES[table].since}
    for uid in sorted(told.keys() | has.keys()):
        values: dict[str, Any] = {"table": table_word(table), "uid": uid}
        if uid not in has:
            yield Text("A row of {table} is in the change log but not in its table: {uid}. {so}", values | _ELSEWHERE)
        elif uid not in told:
            yield Text("A row of {table} is not in the change log: {uid}. {so}", values | _ELSEWHERE)
        elif columns := [name for name, value in has[uid].items() if {**later, **told[uid]}.get(name) != value]:
            values["columns"] = ", ".join(column_word(name) for name in columns)
            yield Text("{columns} of a row of {table} differs from the change log: {uid}. {so}", values | _ELSEWHERE)


_ELSEWHERE = {"so": Text("It was changed elsewhere without the log, or the disk lost something.")}


def _dangling(db: sqlite3.Connection) -> Iterator[Text]:
    for table, fid, parent, _ in db.execute("PRAGMA foreign_key_check").fetchmany(MOST_SHOWN):
        yield Text(
            "Row {fid} of {table} points at something in {parent} that is not there.",
            {
                "fid": fid if fid is not None else 0,
                "table": table_word(table),
                "parent": table_word(parent),
            },
        )


def _boxes(db: sqlite3.Connection) -> Iterator[Text]:
    """Yield the tables whose spatial index does not have the boxes of their shapes."""
    step, _ = version_of(db)
    for table in TABLES:
        shape = codec(table).shape
        if shape is None or RULES[table].step > step:
            continue
        tree = f"rtree_{table}_{shape.name}"
        (wrong,) = db.execute(
            f'SELECT (SELECT count(*) FROM "{table}" t LEFT JOIN "{tree}" r ON r.id = t.fid WHERE t.geom NOTNULL AND '
            "(r.id IS NULL OR r.minx > ST_MinX(t.geom) OR r.maxx < ST_MaxX(t.geom) OR r.miny > ST_MinY(t.geom) OR "
            f'r.maxy < ST_MaxY(t.geom))) + (SELECT count(*) FROM "{tree}" WHERE id NOT IN (SELECT fid FROM "{table}"))'
        ).fetchone()
        if wrong:
            yield Text(
                "The spatial index of {table} is wrong for {count} row.",
                {"table": table_word(table)},
                "The spatial index of {table} is wrong for {count} rows.",
                wrong,
            )
