"""What SQLite and the disk say, put into words with what would help."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from pigmap.errors import EditError, PigmapError, StoreError
from pigmap.store.plain_words import plain
from pigmap.store.refusals import refused
from pigmap.text import Text

_FULL = ("{file} could not be written: the disk is full.", "Make room on it, then do it again; nothing was lost.")
_BUSY = (
    "{file} could not be written or read for {seconds} seconds: another program holds it.",
    "Close that program or wait until it is done, then do it again; nothing was lost.",
)
_READ_ONLY = (
    "{file} cannot be written: the file or its folder {folder} is read-only.",
    "Copy the farm file to a folder of your own and open it there.",
)
_LEFT_OPEN = (
    "{file} was not closed properly, and half an edit has to be taken out of it before it can be read.",
    "Open it where it can be written: that puts it right. If you move it, take {file}-journal along.",
)
_DAMAGED = (
    "{file} is damaged: {detail}.",
    "Do not work on in it; copy it aside and go back to a backup.",
)
_DISK = (
    "The disk did not take or give what belongs to {file}: {detail}.",
    "See that the disk or network folder is still there, then do it again; nothing that was shown as done is lost.",
)
_NO_ACCESS = (
    "{file} cannot be opened: {detail}.",
    "See that the folder {folder} is there and may be read, then open it again.",
)
_WORDS = {
    "SQLITE_FULL": _FULL,
    "SQLITE_BUSY": _BUSY,
    "SQLITE_LOCKED": _BUSY,
    "SQLITE_READONLY_ROLLBACK": _LEFT_OPEN,
    "SQLITE_READONLY": _READ_ONLY,
    "SQLITE_PERM": _READ_ONLY,
    "SQLITE_CORRUPT": _DAMAGED,
    "SQLITE_NOTADB": _DAMAGED,
    "SQLITE_IOERR": _DISK,
    "SQLITE_CANTOPEN": _NO_ACCESS,
}
_GARBLED = ("Could not decode to UTF-8", "no such column", "no such table")
"""How SQLite and Python tell of texts and tables that damage, or other software, has garbled."""
BUSY_SECONDS = 5


def in_words(error: sqlite3.Error, path: Path) -> PigmapError | None:
    """Return what a fault of the disk or the file means; None where it is a fault in the program."""
    name = getattr(error, "sqlite_errorname", "") or ""
    if name.startswith("SQLITE_CONSTRAINT"):
        return refused(error)
    if str(error).startswith(_GARBLED):
        name = "SQLITE_CORRUPT"
    kind = name if name in _WORDS else "_".join(name.split("_")[:2])
    if kind not in _WORDS:
        return None
    message, remedy = _WORDS[kind]
    return StoreError(
        message,
        remedy=remedy,
        file=path.name,
        folder=str(path.parent),
        seconds=BUSY_SECONDS,
        detail=plain(str(error)),
    )


def damaged(path: Path, error: UnicodeDecodeError | json.JSONDecodeError) -> StoreError:
    """Return the words for a file of which the change log, or SQLite's own report of a damage, is no text."""
    message, remedy = _DAMAGED
    if isinstance(error, json.JSONDecodeError):
        detail = Text("an entry of its change log cannot be read")
    else:
        detail = plain(error.object.decode("utf-8", "replace"))
    return StoreError(message, remedy=remedy, file=path.name, detail=detail)


@contextmanager
def words(path: Path) -> Iterator[None]:
    """Turn what SQLite raises inside into words; what cannot be the disk's or the file's fault passes as it is."""
    try:
        yield
    except sqlite3.Error as error:
        said = in_words(error, path)
        if said is None:
            raise
        raise said from error
    except (UnicodeDecodeError, json.JSONDecodeError) as error:
        raise damaged(path, error) from error
    except UnicodeError as error:
        raise EditError("A text holds a sign that cannot be stored.", remedy="Give it without that sign.") from error


@contextmanager
def folder_words(path: Path) -> Iterator[None]:
    """Turn what the system refuses while a new file is made into words: asking for rights first does not tell all."""
    try:
        yield
    except StoreError:
        raise
    except OSError as error:
        raise StoreError(
            "{file} cannot be made in {folder}: {detail}.",
            remedy="Choose a folder of your own, on a disk with room.",
            file=path.name,
            folder=str(path.absolute().parent),
            detail=(error.strerror or str(error)).lower(),
        ) from error
