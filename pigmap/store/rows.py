"""Records to rows of the farm file and back, one at a time or a table at once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from functools import cache
from typing import Any

from pigmap.errors import PigmapError
from pigmap.records import TABLES, Record
from pigmap.records.frozen import in_order
from pigmap.store.columns import Column, Kind, columns
from pigmap.store.naming import table_word
from pigmap.store.plain_words import why_unread
from pigmap.store.schema import literal, table_columns, usual
from pigmap.store.shapes import from_blob, from_blobs, to_blob
from pigmap.store.tables import RULES
from pigmap.text import Text


class Codec:
    """The road between the records and the rows of one table."""

    def __init__(self, record: type[Record]) -> None:
        self.record = record
        self.columns = columns(record)
        self.shape = next((column for column in self.columns if column.kind is Kind.SHAPE), None)
        self._by_name = {column.name: column for column in self.columns}
        names = [f'"{column.name}"' for column in self.columns]
        marks = ", ".join("?" * len(names))
        self.insert = f'INSERT INTO "{record.TABLE}" ({", ".join(names)}) VALUES ({marks})'

    def select(self, step: int) -> str:
        """Return the SQL that reads the table in a file of some step of the schema.

        What a file of an earlier step lacks reads as nothing said: it is not brought up to date where it is only read.
        """
        table = self.record.TABLE
        there = {column.name for column in table_columns(RULES[table], step)}
        wanted = [
            f'"{column.name}"' if column.name in there else f'{literal(usual(column))} AS "{column.name}"'
            for column in self.columns
        ]
        return f"SELECT {', '.join(wanted)} FROM " + (f'"{table}"' if there else "(SELECT NULL AS fid WHERE 0)")

    def row(self, record: Record, srs_id: int) -> list[Any]:
        """Return the values of a record's row, in the order of `columns`.

        Raises
        ------
        EditError
            If a value cannot be stored.
        """
        values = [column.to_row(getattr(record, column.attribute)) for column in self.columns]
        if self.shape is not None:
            at = self.columns.index(self.shape)
            if values[at] is not None:
                values[at] = to_blob(values[at], srs_id)
        return values

    def records(self, rows: Sequence[Sequence[Any]], unread: Callable[[Text], None]) -> Iterable[Record]:
        """Return the records of many rows; what cannot be one is left out and told to `unread`."""
        try:
            return self._all(rows)
        except (PigmapError, ValueError, TypeError):
            return [record for row in rows if (record := self._one(row, unread)) is not None]

    def _all(self, rows: Sequence[Sequence[Any]]) -> list[Record]:
        if not rows:
            return []
        filled = [
            self._filled(column, values) for column, values in zip(self.columns, zip(*rows, strict=True), strict=True)
        ]
        return list(map(in_order(self.record), *filled))

    @staticmethod
    def _filled(column: Column, values: Sequence[Any]) -> Sequence[Any]:
        if column.kind is Kind.SHAPE:
            return from_blobs(values, column.of)
        if column.as_stored:
            return values
        known = {value: column.from_row(value) for value in set(values)}  # days and choices come again and again
        return [known[value] for value in values]

    def _one(self, row: Sequence[Any], unread: Callable[[Text], None]) -> Record | None:
        try:
            return self._all([row])[0]
        except (PigmapError, ValueError, TypeError) as error:
            values = dict(zip((column.name for column in self.columns), row, strict=True))
            unread(unreadable(self.record.TABLE, values["uid"], values, error))
            return None

    def values(self, logged: Mapping[str, Any]) -> dict[str, Any]:
        """Return the attributes that a side of a row of the change log holds; columns not known here are left out."""
        found = {}
        for name, value in logged.items():
            column = self._by_name.get(name)
            if column is None:
                continue
            if column.kind is Kind.SHAPE:
                value = None if value is None else from_blob(bytes.fromhex(value), column.of)
            found[column.attribute] = column.from_row(value)
        return found

    def made(self, uid: str, logged: Mapping[str, Any]) -> Record:
        """Return the record that a row of the change log tells in full."""
        return self.record(uid=uid, **self.values(logged))

    def changed(self, before: Record, logged: Mapping[str, Any]) -> Record:
        """Return a record with the columns that a row of the change log tells."""
        return replace(before, **self.values(logged))


@cache
def codec(table: str) -> Codec:
    """Return the codec of a table by its name."""
    return Codec(TABLES[table])


def unreadable(table: str, uid: str | None, values: Mapping[str, Any] | None, error: Exception) -> Text:
    """Return the note about a row that other software made so that no record can hold it.

    Parameters
    ----------
    table, uid
        Where it stands.
    values
        What it says, by column.
    error
        Why no record holds it.
    """
    known = {column.name: column for column in codec(table).columns}
    return Text(
        "A row of {table} that other software wrote is left out ({uid}): {why}",
        {"table": table_word(table), "uid": uid or "?", "why": why_unread(known, values or {}, error)},
    )
