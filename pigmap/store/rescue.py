"""A sound copy of a damaged farm file: a new file with all that could be read of it; the damaged one is not touched."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import closing, suppress
from functools import lru_cache
from pathlib import Path
from typing import Any

from pigmap.errors import PigmapError, StoreError
from pigmap.records import TABLES, Projection, new_uid
from pigmap.records.frozen import dataclass
from pigmap.store.audit import Row, replayed, what_differs
from pigmap.store.chosen import Chosen, choose, drop, log_rows, whole_row
from pigmap.store.columns import SHAPE_COLUMN, Kind
from pigmap.store.connection import close, connect
from pigmap.store.faults import folder_words, words
from pigmap.store.frame_check import empty_farm
from pigmap.store.health import Progress, findings
from pigmap.store.migrations import STEPS
from pigmap.store.opening import refuse_taken
from pigmap.store.rows import codec
from pigmap.store.salvage import Salvaged, salvage
from pigmap.text import Text, text_to_json


@dataclass(frozen=True, slots=True)
class Rescued:
    """What came of it."""

    path: Path
    """The new file."""
    rows: int
    """How many rows are in it."""
    from_log: int = 0
    """How many of them were made anew from the change log."""
    doubtful: int = 0
    """How many stood in their table otherwise than in the log; they are as the log has them."""
    lost: int = 0
    """How many are known to have been there, and could not be read."""
    unlinked: int = 0
    """How many references to lost rows were taken out."""
    whole: bool = True
    """Whether all of the file could be read, or all of its log, which tells the rest."""
    history: bool = True
    """Whether what was done before is in it too, and can be taken back."""
    others: tuple[str, ...] = ()
    """Layers of other software, which are not in it."""

    @property
    def words(self) -> Text:
        """What a person is told of it."""
        values = {"file": self.path.name}
        said = Text("{count} row was rescued into {file}.", values, "{count} rows were rescued into {file}.", self.rows)
        for more in self._more():
            said = Text("{said} {more}", {"said": said, "more": more})
        return said

    def _more(self) -> Iterable[Text]:
        if self.from_log:
            one, many = (
                "{count} of them was made anew from the change log.",
                "{count} of them were made anew from the change log.",
            )
            yield Text(one, {}, many, self.from_log)
        if self.doubtful:
            one, many = (
                "{count} stood otherwise in its table: look at it.",
                "{count} stood otherwise in their tables: look at them.",
            )
            yield Text(one, {}, many, self.doubtful)
        if self.lost:
            one, many = "{count} row could not be read.", "{count} rows could not be read."
            yield Text(one, {}, many, self.lost)
        if not self.whole:
            yield Text("There may have been more: not all of the file could be read.")
        elif not self.lost:
            yield Text("None is known to be lost.")
        if self.unlinked:
            one, many = "{count} pointed at a row that is lost.", "{count} pointed at rows that are lost."
            yield Text(one, {}, many, self.unlinked)
        if not self.history:
            yield Text("What was done before can no longer be taken back.")
        if self.others:
            yield Text("Layers of other software were left out: {names}.", {"names": ", ".join(self.others)})


def rescue(path: Path, to: Path, progress: Progress = lambda _: None) -> Rescued:
    """Write all that can be read of a farm file into a new one, look through that, and count.

    It appears under its name only once it is whole. Nothing of the damaged file or of what lies beside it is changed.

    Raises
    ------
    StoreError
        If nothing of a farm is in the file, there is a file of the new name already, or the folder does not take it.
    """
    refuse_taken(to)
    part = to.with_name(f"{to.name}.{os.getpid()}.part")
    work = to.with_name(f"{to.name}.{os.getpid()}.read.part")
    steps = iter(range(1, len(TABLES) + 2))
    try:
        with words(to), folder_words(to):
            found = salvage(path, work, lambda _: progress(0.6 * next(steps) / (len(TABLES) + 1)))
            chosen = choose(found)
            projection = _need_farm(path, found, chosen)
            progress(0.7)
            history = _write(part, found, chosen, projection, path)
            progress(1.0)
            refuse_taken(to)
            part.replace(to)
    finally:
        for each in (part, work):
            for name in (each.name, f"{each.name}-journal"):
                with suppress(OSError):
                    each.with_name(name).unlink(missing_ok=True)
    return Rescued(
        to,
        sum(map(len, chosen.rows.values())),
        len(chosen.logged),
        len(chosen.doubted),
        chosen.lost,
        chosen.unlinked,
        whole=found.log_is_whole or not found.torn,
        history=history,
        others=found.others,
    )


def _need_farm(path: Path, found: Salvaged, chosen: Chosen) -> Projection:
    if not any(chosen.rows.values()):
        raise StoreError(
            "Nothing of a farm can be read from {file}.",
            remedy="Go back to a backup or another copy.",
            file=path.name,
        )
    if found.projection is None:
        raise StoreError(
            "{count} rows of {file} can be read, but no longer in which coordinates the farm lies.",
            remedy="Go back to a backup or another copy; whoever knows the coordinates can mend the file.",
            count=sum(map(len, chosen.rows.values())),
            file=path.name,
        )
    return found.projection


def _write(part: Path, found: Salvaged, chosen: Chosen, projection: Projection, path: Path) -> bool:
    """Write the file, with all that was done before if that can be; return whether it is."""
    if found.log_is_whole:
        with suppress(sqlite3.Error, PigmapError, ValueError, TypeError):
            if not _write_file(part, found, chosen, projection, path, history=True) and not findings(part):
                return True
        part.unlink(missing_ok=True)
    while refused := _write_file(part, found, chosen, projection, path, history=False):
        part.unlink()
        drop(chosen, refused)
    return False


def _write_file(
    part: Path, found: Salvaged, chosen: Chosen, projection: Projection, path: Path, *, history: bool
) -> list[tuple[str, str]]:
    """Write the file; return the rows that it does not take, with which it is not to be used."""
    part.touch(exist_ok=False)
    with closing(connect(part)) as db:
        _empty(projection).backup(db)
        db.execute("BEGIN IMMEDIATE")
        db.execute(
            "UPDATE pigmap_document SET document_uid = ?, copy_uid = ?", (found.document_uid or new_uid(), new_uid())
        )
        before: dict[str, dict[str, Row]] = {}
        if history:
            before = replayed(log_rows(found))
            _write_history(db, found, before)
        refused = list(_write_rescued(db, chosen, before, path))
        _spread(db)
        db.execute("ROLLBACK" if refused else "COMMIT")
        close(db)
    return refused


@lru_cache(maxsize=2)
def _empty(projection: Projection) -> sqlite3.Connection:
    return empty_farm(projection, len(STEPS))


def _write_history(db: sqlite3.Connection, found: Salvaged, before: dict[str, dict[str, Row]]) -> None:
    """Write log and edits as they were, and the rows that they come to without telling the log again."""
    marks = ", ".join("?" * 9)
    edits = ((number, *values) for number, values in sorted(found.edits.items()))
    db.executemany(f"INSERT INTO pigmap_edits VALUES ({marks})", edits)
    db.executemany(
        "INSERT INTO pigmap_changes VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        ((number, *values) for number, values in sorted(found.changes.items())),
    )
    triggers = db.execute(
        "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND name LIKE 'pigmap!_log!_%' ESCAPE '!'"
    ).fetchall()
    for name, _ in triggers:
        db.execute(f'DROP TRIGGER "{name}"')
    for table in TABLES:
        for uid, row in before.get(table, {}).items():
            _insert(db, table, uid, row)
    for _, sql in triggers:
        db.execute(sql)


def _write_rescued(
    db: sqlite3.Connection, chosen: Chosen, before: dict[str, dict[str, Row]], path: Path
) -> Iterator[tuple[str, str]]:
    """Write, as one edit that stays, what is not yet as it was pieced together; yield the rows that are refused."""
    label = Text("Rescued from {file}", {"file": path.name})
    edit = db.execute(
        "INSERT INTO pigmap_edits (edit_uid, made_by, label, can_undo) VALUES (?, 'pigmap', ?, 0)",
        (new_uid(), text_to_json(label)),
    )
    db.execute("UPDATE pigmap_document SET current_edit = ?", (edit.lastrowid,))
    for table in TABLES:
        wanted, there = chosen.rows[table], before.get(table, {})
        for uid in there.keys() - wanted.keys():
            db.execute(f'DELETE FROM "{table}" WHERE uid = ?', (uid,))
        for uid, row in wanted.items():
            try:
                if uid not in there:
                    _insert(db, table, uid, row)
                elif what_differs(table, whole_row(table, there[uid]), row):
                    _change(db, table, uid, row)
            except (sqlite3.IntegrityError, UnicodeError):
                yield table, uid
    db.execute("UPDATE pigmap_document SET current_edit = NULL")


def _insert(db: sqlite3.Connection, table: str, uid: str, row: Row) -> None:
    db.execute(codec(table).insert, _values(table, uid, row))


def _change(db: sqlite3.Connection, table: str, uid: str, row: Row) -> None:
    named = ", ".join(f'"{column.name}" = ?' for column in codec(table).columns)
    db.execute(f'UPDATE "{table}" SET {named} WHERE uid = ?', (*_values(table, uid, row), uid))


def _values(table: str, uid: str, row: Row) -> list[Any]:
    whole = {**whole_row(table, row), "uid": uid}
    return [
        bytes.fromhex(value) if column.kind is Kind.SHAPE and isinstance(value, str) else value
        for column in codec(table).columns
        for value in (whole.get(column.name),)
    ]


def _spread(db: sqlite3.Connection) -> None:
    """Tell how far the shapes of each table reach, as its spatial index has it."""
    for table in TABLES:
        if codec(table).shape is not None:
            db.execute(
                "UPDATE gpkg_contents SET (min_x, min_y, max_x, max_y) = (SELECT min(minx), min(miny), max(maxx), "
                f'max(maxy) FROM "rtree_{table}_{SHAPE_COLUMN}") WHERE table_name = ?',
                (table,),
            )
