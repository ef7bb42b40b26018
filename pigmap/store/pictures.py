"""The pictures of photos, kept apart from the farm's rows: no farm is slower to open for them."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from contextlib import closing
from pathlib import Path
from typing import NamedTuple

from pigmap.store.connection import connect
from pigmap.store.faults import words


class Picture(NamedTuple):
    """A photo as the file keeps it."""

    sha256: str
    content_type: str
    data: bytes
    small: bytes
    """The same small, as JPEG."""


def make_pictures(db: sqlite3.Connection) -> None:
    """Make the table of pictures; what is in it is named by what it holds, so it is never changed and not logged."""
    db.execute(
        "CREATE TABLE pigmap_pictures (picture_id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, sha256 TEXT NOT NULL "
        "UNIQUE, content_type TEXT NOT NULL, small BLOB NOT NULL, data BLOB NOT NULL)"
    )
    db.execute(
        "INSERT INTO gpkg_extensions VALUES ('pigmap_pictures', NULL, 'pigmap_change_log', ?, 'write-only')",
        ("The pictures of a pigmap farm file's photos.",),
    )


def keep(path: Path, pictures: Iterable[Picture]) -> None:
    """Keep pictures in a farm file; one that is there is kept once.

    No row of the farm is touched, so this needs no place among the edits.

    Raises
    ------
    StoreError
        If the disk does not take them; none is kept then.
    """
    with words(path), closing(connect(path)) as db:
        db.execute("BEGIN IMMEDIATE")
        db.executemany(
            "INSERT OR IGNORE INTO pigmap_pictures (sha256, content_type, small, data) VALUES (?, ?, ?, ?)",
            [(each.sha256, each.content_type, each.small, each.data) for each in pictures],
        )
        db.execute("COMMIT")


def picture(path: Path, sha256: str) -> Picture | None:
    """Return a picture out of a farm file, None where it has it not."""
    with words(path), closing(connect(path, read_only=True)) as db:
        row = db.execute(
            "SELECT sha256, content_type, data, small FROM pigmap_pictures WHERE sha256 = ?", (sha256,)
        ).fetchone()
    return None if row is None else Picture(*row)


def small_pictures(path: Path, names: Iterable[str]) -> dict[str, bytes]:
    """Return pictures small, as JPEG, by their names; those that the file has not are left out."""
    with words(path), closing(connect(path, read_only=True)) as db:
        found = (
            db.execute("SELECT sha256, small FROM pigmap_pictures WHERE sha256 = ?", (name,)).fetchone()
            for name in names
        )
        return {row[0]: bytes(row[1]) for row in found if row is not None}


def copy_pictures(of: Path, to: Path) -> int:
    """Keep in one farm file the pictures that another has and it has not, one at a time; return how many."""
    wanted = sorted(_names(of) - _names(to))
    for name in wanted:
        found = picture(of, name)
        if found is not None:
            keep(to, [found])
    return len(wanted)


def _names(path: Path) -> frozenset[str]:
    with words(path), closing(connect(path, read_only=True)) as db:
        has = db.execute("SELECT 1 FROM sqlite_master WHERE name = 'pigmap_pictures'").fetchone()
        return frozenset(name for (name,) in db.execute("SELECT sha256 FROM pigmap_pictures")) if has else frozenset()
