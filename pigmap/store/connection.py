"""A connection to a farm file with everything set that keeps it safe."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from functools import cache, partial
from pathlib import Path
from typing import Any

from pigmap.errors import StoreError
from pigmap.store.faults import BUSY_SECONDS
from pigmap.store.shapes import box_of, is_empty

LEAST_SQLITE = (3, 38, 0)


@cache
def check_engine() -> None:
    """Refuse an SQLite that cannot keep a farm file.

    Raises
    ------
    StoreError
        If it is too old, or lacks RTREE or JSON.
    """
    if sqlite3.sqlite_version_info < LEAST_SQLITE:
        raise StoreError(
            "This Python comes with SQLite {found}; a farm file needs {least} or newer.",
            remedy="Use a newer Python.",
            found=sqlite3.sqlite_version,
            least=".".join(map(str, LEAST_SQLITE)),
        )
    db = sqlite3.connect(":memory:")
    try:
        for part, statement in _NEEDED.items():
            _need(db, part, statement)
    finally:
        db.close()


_NEEDED = {
    "RTREE": "CREATE VIRTUAL TABLE boxes USING rtree(id, minx, maxx, miny, maxy)",
    "JSON": "SELECT json_quote('a'), json_valid('[]'), json_type('[]')",
}


def _need(db: sqlite3.Connection, part: str, statement: str) -> None:
    try:
        db.execute(statement)
    except sqlite3.Error as error:
        raise StoreError(
            "The SQLite {found} of this Python was built without {part}, which a farm file needs.",
            remedy="Use a Python from python.org or from your system's packages.",
            found=sqlite3.sqlite_version,
            part=part,
        ) from error


def connect(path: Path, *, read_only: bool = False) -> sqlite3.Connection:
    """Open a farm file that is there, without looking into it.

    The connection is in autocommit: who writes says BEGIN IMMEDIATE and COMMIT. It may pass from one thread to
    another, but only one at a time may use it.
    """
    check_engine()
    db = sqlite3.connect(
        address(path.absolute().as_uri(), read_only=read_only),
        uri=True,
        timeout=BUSY_SECONDS,
        isolation_level=None,
        check_same_thread=False,
        cached_statements=512,
    )
    try:
        prepare(db, () if read_only else WRITING)
    except BaseException:
        db.close()
        raise
    return db


def prepare(db: sqlite3.Connection, writing: Sequence[str]) -> None:
    """Set what a connection to a farm file needs, and, where it is to write, what makes an edit last."""
    add_functions(db)
    for pragma in (*_ALWAYS, *writing):
        db.execute(f"PRAGMA {pragma}")


def address(uri: str, *, read_only: bool) -> str:
    """Return what SQLite takes as the address of a file, from the file's URI.

    A file on another computer of a Windows network (``file://barn/farms/a.gpkg``) it wants with the computer's name
    in the path: it takes no other computer than its own where a URI has it.
    """
    if not uri.startswith("file:///"):
        uri = uri.replace("file://", "file:////", 1)
    return f"{uri}?mode={'ro' if read_only else 'rw'}"


_ALWAYS = ("foreign_keys = ON", "recursive_triggers = ON", "trusted_schema = ON")
WRITING = ("journal_mode = TRUNCATE", "synchronous = EXTRA", "fullfsync = ON")
"""With these an edit that was acknowledged is there after the power has failed."""


def add_functions(db: sqlite3.Connection) -> None:
    """Register the functions that the triggers of a GeoPackage's spatial index call."""
    for at, name in enumerate(("ST_MinX", "ST_MaxX", "ST_MinY", "ST_MaxY")):
        db.create_function(name, 1, partial(_side, at), deterministic=True)
    db.create_function("ST_IsEmpty", 1, is_empty, deterministic=True)


def _side(at: int, blob: Any) -> float | None:
    box = box_of(blob)
    return None if box is None else box[at]


def close(db: sqlite3.Connection, *, read_only: bool = False) -> None:
    """Close a connection so that no journal stays beside the file."""
    try:
        if db.in_transaction:
            db.execute("ROLLBACK")
        if not read_only:
            db.execute("PRAGMA journal_mode = DELETE")
    except sqlite3.Error:
        pass  # someone else is writing: the empty journal stays, and does no harm
    finally:
        db.close()
