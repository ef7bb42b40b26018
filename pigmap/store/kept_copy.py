"""The copy that is kept of a farm file before its tables are brought up to date."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing, suppress
from pathlib import Path

from pigmap.store.migrations import STEPS


def copy_of(path: Path) -> Path:
    """Return where the copy of a farm file is kept, as it was before this program's tables."""
    return path.with_name(f"{path.name}.before-schema-{len(STEPS)}.bak")


def keep_copy(path: Path, db: sqlite3.Connection) -> Path:
    """Copy an open farm file beside itself, look through the copy, and return where it is.

    It appears under its name only once it is whole and on the disk.

    Raises
    ------
    OSError, sqlite3.Error
        If it cannot be written, or does not come out whole.
    """
    kept = copy_of(path)
    part = kept.with_name(f"{kept.name}.{os.getpid()}.part")
    try:
        with closing(sqlite3.connect(part)) as copy:
            db.backup(copy)
            (found,) = copy.execute("PRAGMA quick_check(1)").fetchone()
        if found != "ok":
            raise sqlite3.DatabaseError(str(found))
        _on_disk(part)
        part.replace(kept)
    finally:
        for each in (part, part.with_name(f"{part.name}-journal")):
            with suppress(OSError):
                each.unlink(missing_ok=True)
    return kept


def _on_disk(path: Path) -> None:
    with path.open("rb+") as file:
        os.fsync(file.fileno())
