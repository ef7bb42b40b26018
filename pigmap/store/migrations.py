"""Steps that bring a farm file up to date, numbered from one."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable

from pigmap.store.frame import register
from pigmap.store.pictures import make_pictures
from pigmap.store.schema import column_statements, statements
from pigmap.store.tables import RULES

Step = Callable[[sqlite3.Connection], None]


def _tables_of(db: sqlite3.Connection, step: int) -> None:
    """Make the tables that a step brought, as they were at that step."""
    for rule in RULES.values():
        if rule.step == step:
            for statement in statements(rule, step):
                db.execute(statement)
            register(db, rule, step)


def _columns_of(db: sqlite3.Connection, step: int) -> None:
    """Add the columns that a step brought to tables of earlier steps."""
    for rule in RULES.values():
        for name, since in rule.since.items():
            if since == step:
                for statement in column_statements(rule, name, step):
                    db.execute(statement)


def _first_tables(db: sqlite3.Connection) -> None:
    _tables_of(db, 1)


def _ground_jobs_and_pins(db: sqlite3.Connection) -> None:
    _tables_of(db, 2)
    _columns_of(db, 2)


def _energizers_and_repairs(db: sqlite3.Connection) -> None:
    _tables_of(db, 3)
    _columns_of(db, 3)


def _care_and_weather(db: sqlite3.Connection) -> None:
    _tables_of(db, 4)
    _columns_of(db, 4)
    make_pictures(db)


def _damage_and_gear(db: sqlite3.Connection) -> None:
    _tables_of(db, 5)
    _columns_of(db, 5)


STEPS: tuple[Step, ...] = (
    _first_tables,
    _ground_jobs_and_pins,
    _energizers_and_repairs,
    _care_and_weather,
    _damage_and_gear,
)
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
