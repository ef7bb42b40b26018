"""The looks at a farm file before it is opened: is it there, whole, a farm, and of a version that is known."""

from __future__ import annotations

import sqlite3
import struct
import time
from contextlib import closing
from pathlib import Path

from pigmap.errors import PigmapError, StoreError
from pigmap.store import migrations
from pigmap.store.connection import connect
from pigmap.store.faults import words
from pigmap.store.frame import APPLICATION_ID
from pigmap.store.kept_copy import keep_copy
from pigmap.store.plain_words import plain
from pigmap.store.rights import takes_files, takes_writing
from pigmap.text import Text

SMALL_BYTES = 50_000_000
"""Up to this size a file is looked through before it is opened: about 0.1 s at 20 MB."""

_A_WRITE_S = 0.1
"""Longer than lies between a head that is written anew and the pages it tells of [s]."""
_HEADER = 100
_MAGIC = b"SQLite format 3\0"


def refuse_taken(path: Path) -> None:
    """Refuse to make a farm file where there is one, or where there is no folder to write to."""
    if path.exists():
        raise StoreError("There is already a file {file} in {folder}.", remedy="Choose another name.", **_named(path))
    if not path.parent.is_dir():
        raise StoreError(
            "There is no folder {folder} to make {file} in.", remedy="Make the folder first.", **_named(path)
        )
    if not takes_files(path.parent):
        raise StoreError(
            "{file} cannot be made: the folder {folder} is read-only.",
            remedy="Choose a folder of your own.",
            **_named(path),
        )


def open_checked(path: Path, *, read_only: bool = False) -> tuple[sqlite3.Connection, Text]:
    """Open a farm file after looking at it, and bring it up to date.

    Returns
    -------
    connection, why
        Why it can only be read, empty where it can be written.

    Raises
    ------
    StoreError
        If it is missing, cut short, damaged, no farm file, or of a newer program.

    Before a file of an older program is brought up to date a copy of it is kept beside it.
    """
    check_file(path)
    why = Text("{file} was opened for reading only.", _named(path)) if read_only else _not_writable(path)
    need_length(path)
    with words(path):
        db = connect(path, read_only=bool(why))
        try:
            need_length(path)
            check_farm(path, db)
            newer = _newer(path, db)
            damage = first_damage(path, db) if path.stat().st_size < SMALL_BYTES else Text("")
            if not (why or newer or damage):
                damage = _brought_up_to_date(path, db)
            if not (why or newer or damage):
                return db, why
        except BaseException:
            db.close()
            raise
        if why:
            return db, why
        db.close()
        return connect(path, read_only=True), newer or damage


def opens_well(path: Path) -> bool:
    """Whether a file, a backup as a rule, passes the looks before it is opened; nothing is changed."""
    try:
        check_file(path)
        check_size(path)
        with words(path), closing(connect(path, read_only=True)) as db:
            check_farm(path, db)
            return path.stat().st_size >= SMALL_BYTES or not first_damage(path, db)
    except (OSError, PigmapError, sqlite3.Error):
        return False


def _brought_up_to_date(path: Path, db: sqlite3.Connection) -> Text:
    """Bring a file up to date once a copy of it is kept; return why it cannot be, empty where all is well."""
    if migrations.steps_missing(db) <= 0:
        return Text("")
    try:
        keep_copy(path, db)
    except (OSError, sqlite3.Error) as error:
        return Text(
            "{file} can only be read: it is of an older version, and no copy could be kept in {folder} before it is "
            "brought up to date: {why}. Make room there, and open it again.",
            {"why": plain(str(error)), **_named(path)},
        )
    migrations.bring_up_to_date(db)
    return Text("")


def is_being_written(path: Path) -> bool:
    """Whether a journal lies beside the file: an edit is under way, or a killed program left half of one.

    The size of the file means nothing until the edit is done, or SQLite has rolled it back.
    """
    try:
        return path.with_name(f"{path.name}-journal").stat().st_size > 0
    except OSError:
        return False


def need_length(path: Path) -> None:
    """Refuse what is cut short; a file that is just being written is not taken for it.

    Raises
    ------
    StoreError
        In words.
    """
    try:
        if not is_being_written(path):
            check_size(path)
    except StoreError:
        time.sleep(_A_WRITE_S)
        if not is_being_written(path):
            check_size(path)


def _named(path: Path) -> dict[str, str]:
    whole = path.absolute()
    return {"file": whole.name or str(whole), "folder": str(whole.parent)}


def check_file(path: Path) -> None:
    """Refuse what is not there, cannot be read, or does not begin as a GeoPackage does."""
    if not _is_there(path):
        raise StoreError(
            "There is no file {file} in {folder}.",
            remedy="Look for it in another folder, or make a farm with: pigmap new {file}",
            **_named(path),
        )
    if path.is_dir():
        raise StoreError("{file} in {folder} is a folder.", remedy="Name the farm file inside it.", **_named(path))
    try:
        with path.open("rb") as file:
            head = file.read(_HEADER)
    except OSError as error:
        raise StoreError(
            "{file} in {folder} cannot be read: {why}.",
            remedy="Ask whoever owns it for the right to read it.",
            why=(error.strerror or str(error)).lower(),
            **_named(path),
        ) from error
    if not head:
        raise StoreError("{file} is empty (0 bytes).", remedy="Go back to a backup or another copy.", **_named(path))
    if not head.startswith(_MAGIC):
        raise StoreError(
            "{file} is no farm file: it does not begin as a GeoPackage does.",
            remedy="Choose a farm file (.gpkg), or make one with: pigmap new",
            **_named(path),
        )
    if len(head) < _HEADER:
        raise _cut_short(path, len(head), _HEADER)


def _is_there(path: Path) -> bool:
    try:
        return path.exists()
    except OSError:
        return True  # in a folder that may not be entered: what keeps it from being read is said when it is read


def check_size(path: Path) -> None:
    """Refuse a file that is shorter than its own header says; call it once a left journal is rolled back."""
    with path.open("rb") as file:
        head = file.read(_HEADER)
    (page,) = struct.unpack_from(">H", head, 16)
    change_counter, pages = struct.unpack_from(">II", head, 24)
    (valid_for,) = struct.unpack_from(">I", head, 92)
    wanted = pages * (65536 if page == 1 else page)
    has = path.stat().st_size
    if change_counter == valid_for and has < wanted:
        raise _cut_short(path, has, wanted)


def _cut_short(path: Path, has: int, wanted: int) -> StoreError:
    return StoreError(
        "{file} is cut short: it has {has} of {wanted} bytes.",
        remedy="Copy it again from where it came from, or go back to a backup.",
        has=has,
        wanted=wanted,
        **_named(path),
    )


def _not_writable(path: Path) -> Text:
    if not takes_writing(path):
        return Text("{file} can only be read: the file is read-only.", _named(path))
    if not takes_files(path.absolute().parent):
        return Text("{file} can only be read: the folder {folder} is read-only.", _named(path))
    return Text("")


def check_farm(path: Path, db: sqlite3.Connection) -> None:
    """Refuse a database that no farm is in."""
    (application,) = db.execute("PRAGMA application_id").fetchone()
    if db.execute("SELECT 1 FROM sqlite_master WHERE name = 'pigmap_document'").fetchone() is not None:
        _need_document(path, db)
        return
    if application == APPLICATION_ID:
        raise StoreError(
            "{file} is a GeoPackage of other software, with no farm in it.",
            remedy="Make a farm from its outlines with: pigmap new farm.gpkg --fields {file}",
            **_named(path),
        )
    raise StoreError(
        "{file} is a database of other software, with no farm in it.",
        remedy="Choose a farm file (.gpkg), or make one with: pigmap new",
        **_named(path),
    )


def _need_document(path: Path, db: sqlite3.Connection) -> None:
    wanted = "SELECT 1 FROM pigmap_document JOIN gpkg_spatial_ref_sys USING (srs_id)"
    try:
        found = db.execute(wanted).fetchone()
    except sqlite3.OperationalError:  # a table or a column is not there
        found = None
    if found is None:
        raise StoreError(
            "{file} no longer says which farm it holds, or in which coordinates: other software changed its tables.",
            remedy="Go back to a backup or another copy.",
            **_named(path),
        )


def _newer(path: Path, db: sqlite3.Connection) -> Text:
    version, oldest_reader = migrations.version_of(db)
    known = len(migrations.STEPS)
    if version <= known:
        return Text("")
    if oldest_reader > known:
        raise StoreError(
            "{file} is of version {version}; this program knows versions up to {known}.",
            remedy="Open it with the newer program that wrote it, or bring this one up to date.",
            version=version,
            known=known,
            **_named(path),
        )
    return Text(
        "{file} can only be read: it is of version {version}, and this program writes versions up to {known}.",
        {"version": version, "known": known, **_named(path)},
    )


def first_damage(path: Path, db: sqlite3.Connection) -> Text:
    """Return what SQLite's quick look through all pages finds first, empty where it finds nothing."""
    (found,) = db.execute("PRAGMA quick_check(1)").fetchone()
    if found == "ok":
        return Text("")
    return Text("{file} is damaged: {detail}.", {"detail": plain(str(found)), **_named(path)})
