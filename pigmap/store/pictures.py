"""The pictures of photos, kept apart from the farm's rows: no farm is slower to open for them."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from typing import NamedTuple


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


def keep(db: sqlite3.Connection, pictures: Iterable[Picture]) -> None:
    """Keep pictures; one that is there is kept once."""
    db.executemany(
        "INSERT OR IGNORE INTO pigmap_pictures (sha256, content_type, small, data) VALUES (?, ?, ?, ?)",
        [(each.sha256, each.content_type, each.small, each.data) for each in pictures],
    )


def picture(db: sqlite3.Connection, sha256: str) -> Picture | None:
    """Return a picture, None where the file has it not."""
    row = db.execute(
        "SELECT sha256, content_type, data, small FROM pigmap_pictures WHERE sha256 = ?", (sha256,)
    ).fetchone()
    return None if row is None else Picture(*row)


def small(db: sqlite3.Connection, sha256: str) -> bytes | None:
    """Return a picture small, as JPEG; None where the file has it not."""
    row = db.execute("SELECT small FROM pigmap_pictures WHERE sha256 = ?", (sha256,)).fetchone()
    return None if row is None else bytes(row[0])


def kept(db: sqlite3.Connection) -> frozenset[str]:
    """Return the names of all pictures in the file."""
    return frozenset(sha256 for (sha256,) in db.execute("SELECT sha256 FROM pigmap_pictures"))
