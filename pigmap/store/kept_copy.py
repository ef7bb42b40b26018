"""Whole copies of a farm file: beside it before its tables are brought up to date, or wherever one is wanted."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing, suppress
from pathlib import Path

from pigmap.store.connection import connect
from pigmap.store.migrations import STEPS


def copy_of(path: Path) -> Path:
    """Return where the copy of a farm file is kept, as it was before this program's tables."""
    return path.with_name(f"{path.name}.before-schema-{len(STEPS)}.bak")


def keep_copy(path: Path, db: sqlite3.Connection) -> Path:
    """Copy an open farm file beside itself, look through the copy, and return where it is.

    Raises
    ------
    OSError, sqlite3.Error
        If it cannot be written, or does not come out whole.
    """
    write_copy(db, copy_of(path))
    return copy_of(path)


def copy_whole(path: Path, to: Path) -> None:
    """Copy a farm file that others may be writing to, as it is at one moment; raises as `keep_copy`."""
    with closing(connect(path, read_only=True)) as db:
        write_copy(db, to)


def write_copy(db: sqlite3.Connection, to: Path) -> None:
    """Write a copy that appears under its name only once it is whole and on the disk; raises as `keep_copy`."""
    part = to.with_name(f"{to.name}.{os.getpid()}.part")
    try:
        with closing(sqlite3.connect(part)) as copy:
            db.backup(copy)
            (found,) = copy.execute("PRAGMA quick_check(1)").fetchone()
        if found != "ok":
            raise sqlite3.DatabaseError(str(found))
        _on_disk(part)
        part.replace(to)
    finally:
        for each in (part, part.with_name(f"{part.name}-journal")):
            with suppress(OSError):
                each.unlink(missing_ok=True)


def last_change_in(path: Path) -> int:
    """Return the number of the last change that the log of a farm file holds; raises as `keep_copy`."""
    with closing(connect(path, read_only=True)) as db:
        (last,) = db.execute("SELECT coalesce(max(change_id), 0) FROM pigmap_changes").fetchone()
    return int(last)


def _on_disk(path: Path) -> None:
    with path.open("rb+") as file:
        os.fsync(file.fileno())
