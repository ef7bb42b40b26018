"""A farm as plain dictionaries, with its own undo: an independent second opinion that imports records only."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import fields
from typing import Any

from pigmap.records import TABLES, Farm, Record, RowChange

Row = dict[str, Any]
Tables = dict[str, dict[str, Row]]


class PlainModel:
    """Rows by table and uid, and whole copies of them for undoing."""

    def __init__(self, farm: Farm) -> None:
        self.tables: Tables = {table: {uid: as_row(row) for uid, row in farm.rows(table).items()} for table in TABLES}
        self._before: list[Tables] = []
        self._undone: list[Tables] = []

    def do(self, changes: Iterable[RowChange]) -> None:
        """Make an edit as it was asked for."""
        before = self._copy()
        for asked in changes:
            rows = self.tables[asked.table]
            if asked.after is None:
                del rows[asked.uid]
            else:
                rows[asked.uid] = as_row(asked.after)
        if self.tables != before:  # an edit that changes nothing leaves no trace
            self._before.append(before)
            self._undone.clear()

    def undo(self) -> None:
        """Go back to how it was before the newest edit."""
        self._undone.append(self.tables)
        self.tables = self._before.pop()

    def redo(self) -> None:
        """Go forward again."""
        self._before.append(self.tables)
        self.tables = self._undone.pop()

    @property
    def can_undo(self) -> int:
        """How many edits can be taken back."""
        return len(self._before)

    @property
    def can_redo(self) -> int:
        """How many can be done again."""
        return len(self._undone)

    def _copy(self) -> Tables:
        return {table: dict(rows) for table, rows in self.tables.items()}

    def differences(self, farm: Farm) -> Iterator[str]:
        """Yield every column in which a farm is not as this model has it; floats are compared with ==."""
        for table in TABLES:
            mine, theirs = self.tables[table], farm.rows(table)
            for uid in mine.keys() ^ theirs.keys():
                yield f"{table} {uid}: only in the {'model' if uid in mine else 'farm'}"
            for uid in mine.keys() & theirs.keys():
                other = as_row(theirs[uid])
                for column, value in mine[uid].items():
                    if other[column] != value or type(other[column]) is not type(value):
                        yield f"{table} {uid} {column}: {value!r} in the model, {other[column]!r} in the farm"


def as_row(record: Record) -> Row:
    """Return a record as a plain dictionary."""
    return {each.name: getattr(record, each.name) for each in fields(record)}
