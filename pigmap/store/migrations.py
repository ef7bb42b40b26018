"""Steps that bring a farm file up to date, numbered from one."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable

from pigmap.store.frame import register
from pigmap.store.schema import statements
from pigmap.store.tables import RULES

Step = Callable[[sqlite3.Connection], None]


def _first_tables(db: sqlite3.Connection) -> None:
    for rule in RULES.values():
        for statement in statements(rule, 1):
            db.execute(statement)
        register(db, rule, 1)


STEPS: tuple[Step, ...] = (_first_tables,)
"""Append only: a step that has shipped is never edited, reordered or removed."""

OLDEST_READER = 1
"""Oldest version of the schema whose programs can still read what this one writes."""


def version_of(db: sqlite3.Connection) -> tuple[int, int]:
    """Return the version of the file's schema, and the oldest version whose programs can read it."""
    version, oldest = db.execute("SELECT schema_version, oldest_reader FROM pigmap_document").fetchone()
    return int(version), int(oldest)


def steps_missing(db: sqlite3.Connection) -> int:
    """Return how many steps the file lacks; below zero where a newer program wrote it."""
    return len(STEPS) - version_of(db)[0]


def bring_up_to_date(db: sqlite3.Connection) -> int:
    """Apply the steps the file lacks, all of them or none; return how many.

    The version stands in ``pigmap_document``: ``PRAGMA user_version`` belongs to GeoPackage. Inside a transaction
    that is open already it leaves the end of it to its caller.
    """
    if steps_missing(db) <= 0:
        return 0
    own = not db.in_transaction
    if own:
        db.execute("BEGIN IMMEDIATE")
    try:
        missing = max(steps_missing(db), 0)  # asked again: another program may have done them while this one waited
        if missing:
            _take(db, STEPS[-missing:])
    except BaseException:
        if own:
            db.execute("ROLLBACK")
        raise
    if own:
        db.execute("COMMIT")
    return missing


def _take(db: sqlite3.Connection, steps: tuple[Step, ...]) -> None:
    for step in steps:
        step(db)
    db.execute("UPDATE pigmap_document SET schema_version = ?, oldest_reader = ?", (len(STEPS), OLDEST_READER))
