"""What is held against each other in a farm file beside rows and log: garbled entries, references, spatial index."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from pathlib import Path

from pigmap.store.kept_words import label_of, moment_of
from pigmap.store.migrations import version_of
from pigmap.store.naming import table_word
from pigmap.store.rows import codec
from pigmap.store.tables import RULES
from pigmap.text import Text


def garbled_entries(path: Path, db: sqlite3.Connection) -> Iterator[Text]:
    """Yield the entries of the log that are garbled."""
    for (number,) in db.execute(
        "SELECT change_id FROM pigmap_changes WHERE NOT (json_valid(coalesce(before_json, '{}')) AND "
        "json_valid(coalesce(after_json, '{}'))) OR op <> CASE WHEN before_json IS NULL THEN 'add' "
        "WHEN after_json IS NULL THEN 'remove' ELSE 'change' END ORDER BY change_id"
    ):
        yield Text(
            "{file} is damaged: entry {number} of its change log cannot be read.",
            {"file": path.name, "number": str(number)},
        )
    for _, at, label, *_ in db.execute("SELECT edit_id, made_at_utc, label, made_by, computer FROM pigmap_edits"):
        moment_of(at)  # what is garbled raises, and so does what is no text
        label_of(label)
    for (number,) in db.execute(
        "SELECT edit_id FROM pigmap_edits e WHERE undoes_edit_uid IS NOT NULL AND NOT EXISTS "
        "(SELECT 1 FROM pigmap_edits u WHERE u.edit_uid = e.undoes_edit_uid AND u.edit_id < e.edit_id)"
    ):
        yield Text(
            "{file} is damaged: edit {number} takes back an edit that is not in its history.",
            {"file": path.name, "number": str(number)},
        )


def dangling_rows(db: sqlite3.Connection) -> Iterator[Text]:
    """Yield the rows that point at nothing."""
    for table, fid, parent, _ in db.execute("PRAGMA foreign_key_check"):
        yield Text(
            "Row {fid} of {table} points at something in {parent} that is not there.",
            {
                "fid": fid if fid is not None else 0,
                "table": table_word(table),
                "parent": table_word(parent),
            },
        )


def wrong_boxes(db: sqlite3.Connection, table: str) -> Iterator[Text]:
    """Yield whether the spatial index of a table does not have the boxes of its shapes."""
    shape = codec(table).shape
    if shape is None or RULES[table].step > version_of(db)[0]:
        return
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
