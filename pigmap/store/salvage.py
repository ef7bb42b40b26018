"""What can still be read of a damaged farm file: by SQLite as far as it goes, beyond that off the pages themselves."""

from __future__ import annotations

import shutil
import sqlite3
import struct
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing, suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from pigmap.records import TABLES, Projection
from pigmap.store.audit import Row, as_logged
from pigmap.store.frame import APPLICATION_ID, GEOPACKAGE_VERSION, projection_of
from pigmap.store.raw_pages import RawRow, page_bytes, raw_rows
from pigmap.store.rows import codec
from pigmap.store.schema import literal, usual

Change = tuple[int | None, str, str, str, str | None, str | None, str]
"""Edit, table, uid, kind, values before and after as JSON, when: an entry of the log as it stands in the file."""
Edited = tuple[str, str, str, str, str, str | None, str | None, int]
"""Uid, when, who, computer, label, the edit it takes back, the one it came with, whether it can be undone."""

_CHANGES = "SELECT change_id, edit_id, table_name, row_uid, op, before_json, after_json, written_at_utc"
_EDITS = (
    "SELECT edit_id, edit_uid, made_at_utc, made_by, computer, label, undoes_edit_uid, came_with_edit_uid, can_undo"
)
_DOCUMENT_COLUMNS, _CHANGE_COLUMNS, _EDIT_COLUMNS, _SRS_COLUMNS = 8, 8, 9, 6
_MOST_TRIES, _MOST_ROWS = 20_000, 2**22
BROKEN = (sqlite3.Error, UnicodeDecodeError)
"""What reading a damaged file raises; where SQLite's own words about it are no text, Python says only that."""
_MAGIC = b"SQLite format 3\0"


@dataclass(slots=True)
class Salvaged:
    """All that could be read."""

    document_uid: str = ""
    projection: Projection | None = None
    changes: dict[int, Change] = field(default_factory=dict)
    edits: dict[int, Edited] = field(default_factory=dict)
    tables: dict[str, dict[str, Row]] = field(default_factory=dict)
    """Rows by table and uid, in the form in which the log has them."""
    torn: set[str] = field(default_factory=set)
    """Tables, the log among them, that could not be read to the end."""
    others: tuple[str, ...] = ()
    """Layers of other software."""
    numbers: dict[str, int] = field(default_factory=dict)
    """The last number that was given to a row, by table."""

    @property
    def log_is_whole(self) -> bool:
        """Whether no entry of the log, and no edit, is missing."""
        return self._has_all("pigmap_changes", self.changes) and self._has_all("pigmap_edits", self.edits)

    def _has_all(self, table: str, rows: Mapping[int, object]) -> bool:
        return table not in self.torn or len(rows) == self.numbers.get(table, -1) == max(rows, default=0)


def salvage(path: Path, work: Path, told: Callable[[str], None] = lambda _: None) -> Salvaged:
    """Read all that can be read of a file that may be damaged, cut short, or left half written; it is not touched.

    Parameters
    ----------
    path
        The farm file.
    work
        Where a copy may lie meanwhile; it is the caller's to remove.
    told
        Is called with each table that is read.
    """
    _copy_to(path, work)
    _mend_head(work)
    found = Salvaged(tables={table: {} for table in TABLES}, torn={*TABLES, "pigmap_changes", "pigmap_edits"})
    with suppress(*BROKEN), closing(_opened(work)) as db:
        _read(db, found, told)
    if found.torn & {"pigmap_changes", "pigmap_edits"} or found.projection is None:
        _off_the_pages(work, found)
    return found


def _copy_to(path: Path, work: Path) -> None:
    shutil.copyfile(path, work)
    journal = path.with_name(f"{path.name}-journal")
    if journal.is_file():
        shutil.copyfile(journal, work.with_name(f"{work.name}-journal"))


def _mend_head(work: Path) -> None:
    """Give the copy a head that SQLite takes, and the length that it tells: what was cut off is empty pages."""
    with work.open("r+b") as file:
        head = bytearray(file.read(100).ljust(100, b"\0"))
        size = page_bytes(bytes(head))
        has = file.seek(0, 2)
        (told,) = struct.unpack_from(">I", head, 28)
        head[:16] = _MAGIC
        struct.pack_into(">H", head, 16, 1 if size == 65536 else size)
        head[18:24] = bytes([1, 1, 0, 64, 32, 32])
        pages = max(-(-has // size), 1)
        if pages <= told < pages * 1000:
            file.truncate(told * size)
        else:
            file.truncate(pages * size)
            struct.pack_into(">I", head, 28, pages)
        head[92:96] = head[24:28]
        for at, value in ((44, 4), (56, 1), (60, GEOPACKAGE_VERSION), (68, APPLICATION_ID)):
            struct.pack_into(">I", head, at, value)
        file.seek(0)
        file.write(head)


def _opened(work: Path) -> sqlite3.Connection:
    db = sqlite3.connect(work, isolation_level=None)
    # Broken texts are read as far as they go: the log, or else a person, knows what stood there.
    db.text_factory = lambda raw: raw.decode("utf-8", "replace")
    with suppress(*BROKEN):
        db.execute("PRAGMA writable_schema = ON")
    return db


def _read(db: sqlite3.Connection, found: Salvaged, told: Callable[[str], None]) -> None:
    with suppress(*BROKEN, TypeError, ValueError):
        found.projection = projection_of(db)
        (found.document_uid,) = db.execute("SELECT document_uid FROM pigmap_document").fetchone()
    with suppress(*BROKEN):
        found.numbers = dict(db.execute("SELECT name, seq FROM sqlite_sequence"))
    with suppress(*BROKEN):
        known = [*TABLES, *(name for (name,) in db.execute("SELECT name FROM sqlite_master") if _is_own(name))]
        listed = db.execute("SELECT table_name FROM gpkg_contents ORDER BY table_name").fetchall()
        found.others = tuple(str(name) for (name,) in listed if name not in known)
    told("pigmap_changes")
    found.changes = {row[0]: row[1:] for row in _readable(db, _CHANGES, "pigmap_changes", "change_id", found.torn)}
    found.edits = {row[0]: row[1:] for row in _readable(db, _EDITS, "pigmap_edits", "edit_id", found.torn)}
    for table in TABLES:
        told(table)
        rows = (row[1:] for row in _readable(db, _select(db, table), table, "fid", found.torn))
        found.tables[table] = as_logged(table, rows)


def _is_own(name: str) -> bool:
    return str(name).startswith(("pigmap_", "rtree_", "gpkg_"))


def _select(db: sqlite3.Connection, table: str) -> str:
    """Return the head of a query for the columns that the file has; what it lacks reads as nothing said."""
    there: set[str] = set()
    with suppress(*BROKEN):
        there = {row[1] for row in db.execute(f'PRAGMA table_info("{table}")')}
    wanted = [
        f'"{column.name}"' if column.name in there else f"{literal(usual(column))}" for column in codec(table).columns
    ]
    return f"SELECT fid, {', '.join(wanted)}"


def _readable(db: sqlite3.Connection, head: str, table: str, key: str, torn: set[str]) -> Iterator[tuple[Any, ...]]:
    """Yield the rows of a table as far as they can be read, from both ends and between; a whole one is not torn."""
    query = f'{head} FROM "{table}" WHERE {key} > ? AND {key} < ? ORDER BY {key}'
    tries = 0
    waiting = [(0, 2**62)] if _is_there(db, query) else []
    hurt = not (waiting and _sound(db, table))
    while waiting and tries < _MOST_TRIES:
        low, high = waiting.pop()
        tries += 1
        up, broke = _as_far(db, query, low, high)
        yield from up
        if not broke:
            continue
        hurt = True
        low = max([low, *(row[0] for row in up if row[0] < high)])  # a torn page may hold any number
        down, _ = _as_far(db, f"{query} DESC", low, high)
        yield from down
        high = min((row[0] for row in down if row[0] > low), default=_end(db, table, high))
        if high - low > 2:
            middle = (low + high) // 2
            waiting += [(low, middle + 1), (middle, high)]
    if not hurt:
        torn.discard(table)


def _is_there(db: sqlite3.Connection, query: str) -> bool:
    try:
        db.execute(f"EXPLAIN {query}", (0, 0)).close()
    except BROKEN:
        return False
    return True


def _sound(db: sqlite3.Connection, table: str) -> bool:
    try:
        (said,) = db.execute(f"PRAGMA quick_check('{table}')").fetchone()
    except BROKEN:
        return False
    return bool(said == "ok")


def _end(db: sqlite3.Connection, table: str, high: int) -> int:
    """Return the number that no row reaches, as far as the file knows it."""
    with suppress(*BROKEN, TypeError):
        (last,) = db.execute("SELECT seq FROM sqlite_sequence WHERE name = ?", (table,)).fetchone()
        return min(high, int(last) + 1)
    return min(high, _MOST_ROWS)


def _as_far(db: sqlite3.Connection, query: str, low: int, high: int) -> tuple[list[tuple[Any, ...]], bool]:
    rows: list[tuple[Any, ...]] = []
    try:
        for row in db.execute(query, (low, high)):
            rows.append(row)
    except BROKEN:
        return rows, True
    return rows, False


def _off_the_pages(work: Path, found: Salvaged) -> None:
    """Add what SQLite did not come to: entries of the log, edits, and in which coordinates the farm lies."""
    systems: dict[int, RawRow] = {}
    document: tuple[Any, ...] | None = None
    for number, values in raw_rows(work, frozenset([_CHANGE_COLUMNS, _EDIT_COLUMNS, _SRS_COLUMNS, 2])):
        if len(values) == 2 and values[0] in ("pigmap_changes", "pigmap_edits") and isinstance(values[1], int):
            found.numbers.setdefault(values[0], values[1])
        elif _is_change(values):
            found.changes.setdefault(number, values[1:])
        elif _is_edit(values):
            found.edits.setdefault(number, values[1:])
        elif _is_document(values):
            document = values
        elif len(values) == _SRS_COLUMNS and isinstance(values[4], str):
            systems[number] = number, values
    if document is not None:
        found.document_uid = found.document_uid or document[1]
    if found.projection is None and document is not None and document[6] in systems:
        _, (name, _, authority, code, definition, _) = systems[document[6]]
        with suppress(TypeError, ValueError):
            found.projection = Projection(
                name=str(name),
                authority=str(authority),
                code=int(code),
                definition=str(definition),
                ground_per_grid=float(document[7]),
            )


def _is_change(values: tuple[Any, ...]) -> bool:
    return (
        len(values) == _CHANGE_COLUMNS
        and values[2] in TABLES
        and isinstance(values[3], str)
        and values[4] in ("add", "change", "remove")
        and all(each is None or isinstance(each, str) for each in values[5:7])
    )


def _is_edit(values: tuple[Any, ...]) -> bool:
    return len(values) == _EDIT_COLUMNS and all(isinstance(each, str) for each in values[1:6]) and values[8] in (0, 1)


def _is_document(values: tuple[Any, ...]) -> bool:
    return (
        len(values) == _DOCUMENT_COLUMNS
        and all(isinstance(each, str) for each in values[1:3])
        and all(isinstance(each, int) for each in (values[3], values[4], values[6]))
    )
