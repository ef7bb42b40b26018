"""What a farm table does not take, put into words."""

from __future__ import annotations

import sqlite3
from collections import Counter

from pigmap.errors import EditError
from pigmap.store.naming import column_word, table_word
from pigmap.store.tables import RULES
from pigmap.text import Text


def refused(error: sqlite3.Error) -> EditError:
    """Return the refusal of a value that a farm table does not take."""
    head, _, where = str(error).partition(": ")
    table, column = _place(where)
    if head.startswith("UNIQUE"):
        return EditError(
            "There is already a row of {table} with that {column}.",
            remedy="Choose another {column}, or change the row that is there.",
            table=table,
            column=column,
        )
    if head.startswith("NOT NULL"):
        return EditError("{column} of {table} is empty.", remedy="Give it a value.", table=table, column=column)
    if head.startswith("CHECK"):
        return EditError(
            "{column} of {table} is out of its range, or not of its form.",
            remedy="Give a value that can exist; a day is written as 2026-05-31, a day of any year as 05-31.",
            table=table,
            column=column,
        )
    return EditError("The farm file does not take that: {why}.", remedy="Nothing was changed.", why=str(error))


def _place(where: str) -> tuple[Text, Text]:
    """Return table and column in words from ``table.column``, or from the name of a check."""
    table, dot, column = where.partition(".")
    if not dot:
        table = max((name for name in RULES if where.startswith(f"{name}_")), key=len, default=where)
        column = where.removeprefix(f"{table}_").removesuffix("_2")
    return Text(table_word(table)), Text(column_word(column))


def dangling(db: sqlite3.Connection) -> EditError:
    """Return the refusal of an edit that leaves rows pointing at nothing; call it while the edit is still open."""
    found = Counter((child, parent) for child, _, parent, _ in db.execute("PRAGMA foreign_key_check"))
    (child, parent), count = found.most_common(1)[0] if found else (("rows", "rows"), 1)
    return EditError(
        "{count} of the {child} would point at something in {parent} that is not there.",
        remedy="Change or remove what points at it first, or in the same edit.",
        count=count,
        child=table_word(child),
        parent=table_word(parent),
    )
