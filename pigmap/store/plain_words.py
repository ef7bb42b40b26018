"""What SQLite and Python say of a fault, as a keeper can read it: never their own words."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from pigmap.errors import PigmapError
from pigmap.records import TABLES
from pigmap.store.columns import Column
from pigmap.store.naming import column_word, table_word
from pigmap.store.shapes import from_blob
from pigmap.text import Text

MOST_LETTERS = 40
"""Letters of a value that are shown."""


def plain(told: str) -> Text:
    """Return what a fault means that SQLite or the system tells of.

    Examples
    --------
    >>> print(plain("no such table: photos"))
    its table of photos is missing
    >>> print(plain("Tree 5 page 12 cell 3: Rowid 3 out of order"))
    its page 12 is not in order
    >>> print(plain("database disk image is malformed"))
    its pages do not fit together
    """
    said = " ".join(told.split())
    for pattern, words in _KNOWN:
        if found := re.search(pattern, said, re.IGNORECASE):
            return Text(words, {name: _named(name, value) for name, value in found.groupdict().items()})
    return Text("its pages do not fit together")


_KNOWN = (
    (r"no such table: (?:\w+\.)?(?P<table>\w+)", "its table of {table} is missing"),
    (r"no such column: (?:\w+\.)?(?P<column>\w+)", "a column of it is missing: {column}"),
    (r"not a database", "its beginning is not that of a farm file"),
    (r"decode|garbled|unicode", "a text in it is garbled"),
    (r"disk is full|space left|quota", "the disk is full"),
    (r"permission denied|not permitted|access is denied", "the system does not allow it"),
    (r"unable to open|no such file", "the system does not open it"),
    (r"disk I/O|input/output", "the disk did not do what it was asked to"),
    (r"locked|busy", "another program holds it"),
    (r"readonly|read-only", "it is read-only"),
    (r"(?:missing from|entries in) index", "an index of it does not fit its rows"),
    (r"page (?P<page>\d+)", "its page {page} is not in order"),
    (r"(?:NULL value|value) in (?P<table>\w+)\.(?P<column>\w+)", "{column} of {table} cannot be what it is"),
)


def _named(name: str, value: str) -> Text | str:
    if name == "table":
        return Text(table_word(value)) if value in TABLES else value
    return Text(column_word(value)) if name == "column" else value


def why_unread(columns: Mapping[str, Column], values: Mapping[str, Any], error: Exception) -> Text:
    """Return why values make no record of a table: a limit of the record, or a value that is none of its column."""
    if isinstance(error, PigmapError):
        return error.message
    return next(_odd(columns, values), Text("A value in it is not of the kind that belongs there."))


def _odd(columns: Mapping[str, Column], values: Mapping[str, Any]) -> Iterator[Text]:
    for name, value in values.items():
        column = columns.get(name)
        if column is None:
            continue
        if value is None:
            if not column.optional:
                yield Text("{what} is empty.", {"what": Text(column_word(name))})
            continue
        try:
            if isinstance(value, bytes):
                from_blob(value, column.of)
            else:
                column.from_row(value)
        except PigmapError as refused:
            yield refused.message
        except (ValueError, TypeError, KeyError, AttributeError):
            yield Text(
                "{what} cannot be {value}.", {"what": Text(column_word(name)), "value": str(value)[:MOST_LETTERS]}
            )
