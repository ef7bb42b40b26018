"""Is a farm file sound: size, pages, frame, rows against the change log, references, spatial index."""

from __future__ import annotations

import json
import sqlite3
import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing, contextmanager
from itertools import islice
from pathlib import Path

from pigmap.errors import PigmapError
from pigmap.records import TABLES
from pigmap.records.frozen import dataclass
from pigmap.store.audit import against_log, replay, table_rows
from pigmap.store.connection import connect
from pigmap.store.faults import damaged, in_words
from pigmap.store.frame_check import frame_faults
from pigmap.store.migrations import version_of
from pigmap.store.naming import table_word
from pigmap.store.opening import check_farm, check_file, check_size
from pigmap.store.rows import codec
from pigmap.store.tables import RULES
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
        with closing(connect(path, read_only=True)) as db, _stopped_by(stop, db):
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
def _stopped_by(stop: Stop, db: sqlite3.Connection) -> Iterator[None]:
    """Interrupt SQLite once it is to stop: through the pages of a large file it goes for seconds without asking."""
    over = threading.Event()

    def watch() -> None:
        while not over.wait(_ASKED_S):
            if stop():
                db.interrupt()

    watcher = threading.Thread(target=watch, name="stop looking", daemon=True)
    watcher.start()
    try:
        yield
    finally:
        over.set()
        watcher.join()  # the connection is closed next


def _look(path: Path, db: sqlite3.Connection, progress: Progress, stop: Stop) -> Looked:
    check_size(path)
    check_farm(path, db)
    pages = _Share(progress, 0.0, PAGES_SHARE)
    db.set_progress_handler(lambda: pages.creep() or stop(), _OFTEN)
    (said,) = db.execute("PRAGMA integrity_check(1)").fetchone()
    if said != "ok":
        detail = str(said).strip("* \n").replace("\n", " ")
        return Looked((Text("{file} is damaged: {detail}.", {"file": path.name, "detail": detail}),))
    rows = _Share(progress, PAGES_SHARE, 1.0)
    db.execute("BEGIN")  # one moment of the file, whatever others write
    tables = iter(range(1, len(TABLES) + 1))

    def began(_: str) -> None:
        if stop():
            raise _Stopped
        rows.at(next(tables) / (len(TABLES) + 2))

    parts = (frame_faults(db), _unreadable(path, db), against_log(db, began), _dangling(db), _boxes(db))
    found = [text for part in parts for text in _some(part)]
    progress(1.0)
    return Looked(tuple(found))


class _Share:
    """Progress through one part of the work; a part of unknown length creeps towards its end."""

    def __init__(self, progress: Progress, begin: float, end: float) -> None:
        self._progress, self._begin, self._end = progress, begin, end
        self._done = 0.0

    def at(self, done: float) -> None:
        """Tell how much of the part is done, 0 to 1."""
        self._progress(self._begin + (self._end - self._begin) * done)

    def creep(self) -> bool:
        """Go on a little; returns False, which lets SQLite go on too."""
        self._done += (1 - self._done) * 0.01
        self.at(self._done)
        return False


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
    return _in_one(said) if said is not None else Text("{file}: {why}", {"file": path.name, "why": str(error)})


def _unreadable(path: Path, db: sqlite3.Connection) -> Iterator[Text]:
    """Yield the entries of the log that are garbled."""
    for (number,) in db.execute(
        "SELECT change_id FROM pigmap_changes WHERE NOT (json_valid(coalesce(before_json, '{}')) AND "
        "json_valid(coalesce(after_json, '{}'))) OR op <> CASE WHEN before_json IS NULL THEN 'add' "
        "WHEN after_json IS NULL THEN 'remove' ELSE 'change' END ORDER BY change_id"
    ):
        yield Text(
            "{file} is damaged: entry {number} of its change log cannot be read.",
            {"file": path.name, "number": str(number)},
        )
    for (number,) in db.execute(
        "SELECT edit_id FROM pigmap_edits e WHERE undoes_edit_uid IS NOT NULL AND NOT EXISTS "
        "(SELECT 1 FROM pigmap_edits u WHERE u.edit_uid = e.undoes_edit_uid AND u.edit_id < e.edit_id)"
    ):
        yield Text(
            "{file} is damaged: edit {number} takes back an edit that is not in its history.",
            {"file": path.name, "number": str(number)},
        )


def _dangling(db: sqlite3.Connection) -> Iterator[Text]:
    for table, fid, parent, _ in db.execute("PRAGMA foreign_key_check"):
        yield Text(
            "Row {fid} of {table} points at something in {parent} that is not there.",
            {
                "fid": fid if fid is not None else 0,
                "table": table_word(table),
                "parent": table_word(parent),
            },
        )


def _boxes(db: sqlite3.Connection) -> Iterator[Text]:
    """Yield the tables whose spatial index does not have the boxes of their shapes."""
    step, _ = version_of(db)
    for table in TABLES:
        shape = codec(table).shape
        if shape is None or RULES[table].step > step:
            continue
        tree = f"rtree_{table}_{shape.name}"
        (wrong,) = db.execute(
            f'SELECT (SELECT count(*) FROM "{table}" t LEFT JOIN "{tree}" r ON r.id = t.fid WHERE t.geom NOTNULL AND '
            "(r.id IS NULL OR r.minx > ST_MinX(t.geom) OR r.maxx < ST_MaxX(t.geom) OR r.miny > ST_MinY(t.geom) OR "
            f'r.maxy < ST_MaxY(t.geom))) + (SELECT count(*) FROM "{tree}" WHERE id NOT IN (SELECT fid FROM "{table}"))'
        ).fetchone()
        if wrong:
            yield Text(
                "The spatial index of {table} is wrong for {count} row.",
                {"table": table_word(table)},
                "The spatial index of {table} is wrong for {count} rows.",
                wrong,
            )
