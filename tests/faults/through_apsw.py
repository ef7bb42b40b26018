"""A connection over apsw that the store takes for one of sqlite3, so that a VFS of our own can lie below its code."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any, cast

import apsw

from pigmap.session import Session
from pigmap.store import FarmFile
from pigmap.store.connection import WRITING, prepare
from pigmap.store.door import Door
from pigmap.text import Text

_KINDS: dict[str, type[sqlite3.Error]] = {
    "SQLITE_CONSTRAINT": sqlite3.IntegrityError,
    "SQLITE_CORRUPT": sqlite3.DatabaseError,
    "SQLITE_NOTADB": sqlite3.DatabaseError,
}


@contextmanager
def as_sqlite3() -> Iterator[None]:
    """Raise what apsw raises as sqlite3 would."""
    try:
        yield
    except apsw.Error as error:
        code = getattr(error, "extendedresult", 0) or getattr(error, "result", 1)
        name = str(apsw.mapping_extended_result_codes.get(code) or apsw.mapping_result_codes.get(code & 255))
        raised = _KINDS.get("_".join(name.split("_")[:2]), sqlite3.OperationalError)(str(error))
        raised.sqlite_errorname = name
        raised.sqlite_errorcode = code
        raise raised from error


class Rows:
    """What a statement gives, as a cursor of sqlite3 hands it out."""

    def __init__(self, db: apsw.Connection, cursor: apsw.Cursor) -> None:
        self._cursor = cursor
        self.lastrowid = db.last_insert_rowid()
        self.rowcount = db.changes()

    def __iter__(self) -> Iterator[tuple[Any, ...]]:
        with as_sqlite3():
            yield from self._cursor

    def fetchone(self) -> tuple[Any, ...] | None:
        """Return the next row."""
        with as_sqlite3():
            found = self._cursor.fetchone()
        self._cursor.close(True) if found is None else None
        return cast("tuple[Any, ...] | None", found)

    def fetchall(self) -> list[tuple[Any, ...]]:
        """Return the rows that are left."""
        return list(self)

    def fetchmany(self, size: int) -> list[tuple[Any, ...]]:
        """Return the next rows."""
        return [row for _, row in zip(range(size), self, strict=False)]


class Connection:
    """As much of sqlite3's connection as the store uses."""

    def __init__(self, path: Path, vfs: str) -> None:
        with as_sqlite3():
            self._db = apsw.Connection(str(path), flags=apsw.SQLITE_OPEN_READWRITE, vfs=vfs)

    def execute(self, sql: str, values: Any = ()) -> Rows:
        """Run a statement."""
        with as_sqlite3():
            cursor = self._db.cursor().execute(sql, values or None)
            return Rows(self._db, cursor)

    def executemany(self, sql: str, values: Iterable[Sequence[Any]]) -> None:
        """Run a statement for each of many."""
        for each in values:
            self.execute(sql, each)

    def create_function(self, name: str, count: int, fn: Callable[..., Any], *, deterministic: bool = False) -> None:
        """Register a function."""
        self._db.create_scalar_function(name, fn, count, deterministic=deterministic)

    @property
    def in_transaction(self) -> bool:
        """Whether one is open."""
        return bool(self._db.in_transaction)

    def close(self) -> None:
        """Close it."""
        self._db.close(True)


def session_through(path: Path, vfs: str, writing: Sequence[str] = WRITING) -> Session:
    """Open a farm over a VFS, with the store's own code and settings or with other settings."""
    db = cast(sqlite3.Connection, Connection(path, vfs))
    prepare(db, writing)
    return Session(FarmFile(Door(path, db, Text(""))), None, None)
