"""Read a farm out of its file as it stands at one moment; of very many daily checks the older ones when asked for."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import Any

from pigmap.errors import StoreError
from pigmap.records import TABLES, Check, Farm
from pigmap.records.later_rows import LaterRows
from pigmap.store.faults import words
from pigmap.store.frame import projection_of
from pigmap.store.migrations import version_of
from pigmap.store.rows import codec
from pigmap.text import Text

MANY_CHECKS = 20_000
"""From so many daily checks on the older ones can wait: reading these takes about 0.1 s. Own choice."""
NEWEST = "uid IS NOT NULL AND checked_on >= ?"


@contextmanager
def reading(db: sqlite3.Connection, kept_if: Callable[[], bool] = lambda: False) -> Iterator[None]:
    """See the file as it is at one moment, whatever others write; beyond the end where that is asked for."""
    if db.in_transaction:
        yield
        return
    db.execute("BEGIN")
    kept = False
    try:
        yield
        kept = kept_if()
    finally:
        if not kept:
            db.execute("ROLLBACK")


class FarmReading:
    """Reads farms out of one file.

    Parameters
    ----------
    path
        The farm file.
    unread
        Is told of rows that no record can hold.
    """

    def __init__(self, path: Path, unread: Callable[[Text], None]) -> None:
        self._path, self._unread = path, unread
        self._later: LaterRows[Any] | None = None

    def read(self, db: sqlite3.Connection, later_than: date | None = None) -> Farm:
        """Return the whole farm, in a transaction that is open, and stays so as long as it `has_later`.

        Parameters
        ----------
        db
            The farm file.
        later_than
            Of very many daily checks those of this day and later are read at once, the others by `finish` or when they
            are asked for; None reads all.
        """
        (document_uid,) = db.execute("SELECT document_uid FROM pigmap_document").fetchone()
        step, _ = version_of(db)
        tables: dict[str, Any] = {
            table: MappingProxyType(self._rows(db, table, step)) for table in TABLES if table != Check.TABLE
        }
        tables[Check.TABLE] = self._checks(db, step, later_than)
        return Farm(document_uid=document_uid, projection=projection_of(db), **tables)

    def _rows(self, db: sqlite3.Connection, table: str, step: int, since: date | None = None) -> dict[str, Any]:
        where, values = ("uid IS NOT NULL", ()) if since is None else (NEWEST, (since.isoformat(),))
        # The sign has SQLite sort what it finds by day, and not go through the table for the sake of the order.
        select = f"{codec(table).select(step)} WHERE {where} ORDER BY {'fid' if since is None else '+fid'}"
        unread = self._unread if since is None else _tell_nobody  # it is told once all are read
        return {row.uid: row for row in codec(table).records(db.execute(select, values).fetchall(), unread)}

    def _checks(self, db: sqlite3.Connection, step: int, later_than: date | None) -> Mapping[str, Check]:
        if later_than is None or not _has_many(db):
            return MappingProxyType(self._rows(db, Check.TABLE, step))
        newest = self._rows(db, Check.TABLE, step, later_than)
        self._later = LaterRows(newest, later_than, lambda: self._rest(db, step))
        return self._later

    @property
    def has_later(self) -> bool:
        """Whether something is left to be read."""
        return self._later is not None and not self._later.are_read

    def _rest(self, db: sqlite3.Connection, step: int) -> dict[str, Check]:
        with words(self._path):
            try:
                if not db.in_transaction:
                    raise StoreError(
                        "{file} was changed while it was read.", remedy="Open it again.", file=self._path.name
                    )
                return self._rows(db, Check.TABLE, step)
            finally:
                if db.in_transaction:
                    db.execute("ROLLBACK")

    def finish(self) -> None:
        """Read what is left, so that the file can be written again.

        Raises
        ------
        StoreError
            If it cannot be read.
        """
        if self._later is not None:
            self._later.begin()
            self._later.all()

    def give_up(self) -> None:
        """Read nothing any more: the file is being closed."""
        if self._later is not None:
            self._later.give_up(
                StoreError("{file} is closed.", remedy="Open it again to see the rest of it.", file=self._path.name)
            )


def _has_many(db: sqlite3.Connection) -> bool:
    (last,) = db.execute(f"SELECT max(fid) FROM {Check.TABLE}").fetchone()
    return (last or 0) >= MANY_CHECKS


def _tell_nobody(_: Text) -> None:
    pass
