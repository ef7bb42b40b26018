"""Is a farm file sound: size, pages, frame, rows against the change log, references, spatial index."""

from __future__ import annotations

import json
import sqlite3
import threading
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing, contextmanager
from functools import partial
from itertools import islice
from pathlib import Path

from pigmap.errors import PigmapError
from pigmap.records import TABLES
from pigmap.records.frozen import dataclass
from pigmap.store.audit import differences, replay, table_rows
from pigmap.store.connection import connect
from pigmap.store.faults import damaged, in_words
from pigmap.store.frame_check import frame_faults
from pigmap.store.opening import check_farm, check_file, check_size, is_being_written, need_length
from pigmap.store.plain_words import plain
from pigmap.store.row_checks import dangling_rows, garbled_entries, wrong_boxes
from pigmap.text import Text

__all__ = ["MOST_SHOWN", "Looked", "findings", "look_through", "replay", "table_rows"]

MOST_SHOWN = 20
"""Differences that are listed one by one; the rest is counted."""
PAGES_SHARE = 0.5
"""How much of the work the look at all pages is, about."""
_OFTEN = 200_000
"""So many steps of SQLite's lie between two questions whether to stop."""

_ASKED_S = 0.1
"""How often is asked whether to stop [s]."""
_MOST_TRIES = 100
"""So often a part of the work is begun because an edit had to go first."""

Progress = Callable[[float], None]
Stop = Callable[[], bool]


@dataclass(frozen=True, slots=True)
class Looked:
    """What a look through a farm file came to."""

    found: tuple[Text, ...]
    """All that is wrong with it, or what stood against looking."""
    whole: bool = True
    """Whether it was looked through; False where someone stopped that, another program held the file, or it is gone."""

    @property
    def damaged(self) -> bool:
        """Whether the file itself is not sound."""
        return self.whole and bool(self.found)


class _Stopped(Exception):  # noqa: N818  (no error: someone asked for it)
    pass


def findings(path: Path) -> list[Text]:
    """Return all that is wrong with a farm file, empty where it is sound; the file is only read."""
    return list(look_through(path).found)


def look_through(path: Path, progress: Progress = lambda _: None, stop: Stop = lambda: False) -> Looked:
    """Look at size, every page, the frame, every row against the change log, references and spatial index.

    Where pages are damaged the rest is not looked at. The file is only read, and others may go on writing to it.

    Parameters
    ----------
    path
        The farm file.
    progress
        Is told how much is done, 0 to 1.
    stop
        Is asked now and then whether to stop.
    """
    try:
        check_file(path)
        with closing(connect(path, read_only=True)) as db, _stopped_by(stop, path, db):
            return _look(path, db, progress, stop)
    except _Stopped:
        return Looked((), whole=False)
    except PigmapError as error:
        return Looked((_in_one(error),), whole=path.is_file())
    except sqlite3.Error as error:
        return Looked((), whole=False) if stop() else Looked((_fault(error, path),), whole=not _hindered(error))
    except (UnicodeDecodeError, json.JSONDecodeError) as error:
        return Looked((_in_one(damaged(path, error)),))


@contextmanager
def _stopped_by(stop: Stop, path: Path, db: sqlite3.Connection) -> Iterator[None]:
    """Interrupt SQLite once it is to stop, or is in the way of an edit: through a large file it goes for seconds."""
    over = threading.Event()

    def watch() -> None:
        while not over.wait(_ASKED_S):
            if stop() or is_being_written(path):
                db.interrupt()

    watcher = threading.Thread(target=watch, name="stop looking", daemon=True)
    watcher.start()
    try:
        yield
    finally:
        over.set()
        watcher.join()  # the connection is closed next


def _look(path: Path, db: sqlite3.Connection, progress: Progress, stop: Stop) -> Looked:
    need_length(path)
    check_farm(path, db)
    creeping = _Creeping(progress)
    db.set_progress_handler(lambda: creeping.on() or stop(), _OFTEN)
    if damage := _between_edits(path, db, stop, lambda: _pages(path, db)):
        return Looked(tuple(damage))
    parts: list[Callable[[], Iterable[Text]]] = [
        partial(frame_faults, db),
        partial(garbled_entries, path, db),
        *(partial(differences, db, table) for table in TABLES),
        partial(dangling_rows, db),
        *(partial(wrong_boxes, db, table) for table in TABLES),
    ]
    found: list[Text] = []
    for number, part in enumerate(parts, start=1):
        found += _between_edits(path, db, stop, part)
        creeping.at(PAGES_SHARE + (1 - PAGES_SHARE) * number / len(parts))
    return Looked(tuple(found))


def _pages(path: Path, db: sqlite3.Connection) -> Iterator[Text]:
    db.execute("SELECT 1 FROM sqlite_master").fetchone()  # from now on nobody is half way through writing
    check_size(path)
    (said,) = db.execute("PRAGMA integrity_check(1)").fetchone()
    if said != "ok":
        yield Text("{file} is damaged: {detail}.", {"file": path.name, "detail": plain(str(said))})


def _between_edits(path: Path, db: sqlite3.Connection, stop: Stop, part: Callable[[], Iterable[Text]]) -> list[Text]:
    """Do one part of the work on one moment of the file; begin it again where an edit has to go first."""
    for _ in range(_MOST_TRIES):
        if stop():
            break
        db.execute("BEGIN")
        try:
            return list(_some(part()))
        except sqlite3.OperationalError as error:
            if stop():
                raise _Stopped from error
            if getattr(error, "sqlite_errorname", "") != "SQLITE_INTERRUPT":
                raise
        finally:
            db.execute("ROLLBACK")
        while is_being_written(path) and not stop():
            time.sleep(_ASKED_S)
    raise _Stopped


class _Creeping:
    """Progress that goes on a little while nobody knows how long a part takes."""

    def __init__(self, progress: Progress) -> None:
        self._progress = progress
        self._done = 0.0

    def on(self) -> bool:
        """Go on a little; returns False, which lets SQLite go on too."""
        self.at(self._done + max(PAGES_SHARE - self._done, 0) * 0.01)
        return False

    def at(self, done: float) -> None:
        """Tell how much is done."""
        self._done = done
        self._progress(done)


def _some(found: Iterable[Text]) -> Iterator[Text]:
    """Yield the first findings of a kind; the others are counted."""
    each = iter(found)
    yield from islice(each, MOST_SHOWN)
    more = sum(1 for _ in each)
    if more:
        yield Text("{count} more like that.", plural="{count} more like that.", count=more)


def _in_one(error: PigmapError) -> Text:
    return Text("{message} {remedy}", {"message": error.message, "remedy": error.remedy})


def _hindered(error: sqlite3.Error) -> bool:
    """Whether it tells of the disk or of another program, and not of the file."""
    name = getattr(error, "sqlite_errorname", "") or ""
    return name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED", "SQLITE_IOERR", "SQLITE_CANTOPEN", "SQLITE_READONLY"))


def _fault(error: sqlite3.Error, path: Path) -> Text:
    said = in_words(error, path)
    if said is not None:
        return _in_one(said)
    return Text("{file} is damaged: {detail}.", {"file": path.name, "detail": plain(str(error))})
