"""One farm file: made, opened, read whole, written one edit at a time, and asked for news."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from datetime import date
from pathlib import Path

from pigmap.errors import StoreError
from pigmap.records import Farm, Projection, RowChange, new_uid
from pigmap.store import copies, log, undo
from pigmap.store.as_of import farm_as_of
from pigmap.store.connection import connect
from pigmap.store.copies import Conflict, CopyLog, EditMade, OpenConflict
from pigmap.store.door import Door
from pigmap.store.edit_writing import make_file, person, whose, write_edit
from pigmap.store.faults import folder_words, words
from pigmap.store.history import Cursor, HistoryEntry, history
from pigmap.store.log import LogEntry
from pigmap.store.opening import refuse_taken
from pigmap.store.reading import FarmReading, reading
from pigmap.store.refusals import dangling
from pigmap.text import Text


class FarmFile:
    """An open farm file.

    Reading gives a `Farm`; from then on the file is asked only for what its change log has to tell. One thread at a
    time may use it.
    """

    def __init__(self, door: Door) -> None:
        self.path = door.path
        self.read_only = door.why
        """Why it cannot be written, empty where it can."""
        self.notes: list[Text] = []
        """Rows of other software that no record can hold."""
        self.cursor = Cursor()
        self._door, self._db = door, door.db
        self._reading = FarmReading(self.path, self.notes.append)
        self._seen = 0
        (self._srs_id,) = self._db.execute("SELECT srs_id FROM pigmap_document").fetchone()
        (self._data_version,) = self._db.execute("PRAGMA data_version").fetchone()

    @classmethod
    def create(
        cls, path: Path, projection: Projection, rows: Sequence[RowChange] = (), *, made_by: str = ""
    ) -> FarmFile:
        """Make a new farm file, with some first rows, and open it.

        It appears under its name only when it is whole. What it starts with cannot be undone.

        Raises
        ------
        StoreError
            If there is a file of that name, or the folder is missing, read-only or full.
        """
        refuse_taken(path)
        part = path.with_name(f"{path.name}.{os.getpid()}.part")
        try:
            with words(path), folder_words(path):
                make_file(part, projection, rows, made_by)
                refuse_taken(path)
                part.replace(path)
        finally:
            with suppress(OSError):
                part.unlink(missing_ok=True)
        return cls.open(path)

    @classmethod
    def open(cls, path: Path, *, read_only: bool = False, hold: bool = False) -> FarmFile:
        """Open a farm file that is there; where it cannot be written, `read_only` says why.

        Parameters
        ----------
        path
            The farm file.
        read_only
            Whether it is only to be read.
        hold
            Whether to keep others who ask so from changing it, or to wait for one who does; without it programs take
            turns, edit by edit.

        Raises
        ------
        StoreError
            If it is missing, cut short, damaged, no farm file, or of a newer program.
        """
        return cls._through(Door.open(path, read_only=read_only, hold=hold, who=person()))

    @classmethod
    def look(cls, path: Path) -> FarmFile:
        """Open a farm file that is known to be sound, for a short look that changes nothing."""
        with words(path):
            db = connect(path, read_only=True)
            try:
                door = Door(path, db, Text("{file} was opened for reading only.", {"file": path.name}))
            except BaseException:
                db.close()
                raise
        return cls._through(door)

    @classmethod
    def _through(cls, door: Door) -> FarmFile:
        try:
            with words(door.path):
                return cls(door)
        except BaseException:
            door.close()
            raise

    def read(self, later_than: date | None = None) -> Farm:
        """Return the whole farm as it stands in the file.

        Parameters
        ----------
        later_than
            Of very many daily checks only those of this day and later are read at once, the others as soon as anybody
            asks for them or the file is used again; until then nobody can write into it. None reads all at once.
        """
        with words(self.path), reading(self._db, kept_if=lambda: self._reading.has_later):
            self._seen = log.last_change(self._db)
            self.cursor.catch_up(self._db)
            return self._reading.read(self._db, later_than)

    @contextmanager
    def _settled(self) -> Iterator[None]:
        """Use the file once all of the farm is read."""
        self._reading.finish()
        with words(self.path):
            yield

    @contextmanager
    def transaction(self) -> Iterator[None]:
        """Hold the file for one edit: all of it is on disk at the end, or none of it where anything is raised.

        Raises
        ------
        StoreError
            If the file cannot be written, or another program holds it for too long.
        """
        if self.read_only:
            raise StoreError(self.read_only, remedy=self._door.remedy)
        self._door.need_place()
        seen = self._seen, self._data_version
        with self._settled():
            self._db.execute("BEGIN IMMEDIATE")
            try:
                yield
                self._commit()
            except BaseException:
                # What others wrote is told again: nothing of this transaction was published.
                self._seen, self._data_version = seen
                if self._db.in_transaction:
                    self._db.execute("ROLLBACK")
                raise
            self.cursor.catch_up(self._db)

    def _commit(self) -> None:
        try:
            self._db.execute("COMMIT")
        except sqlite3.IntegrityError as error:
            raise dangling(self._db) from error

    def write(
        self,
        label: Text,
        changes: Sequence[RowChange],
        *,
        made_by: str = "",
        undoes: str | None = None,
        can_undo: bool = True,
    ) -> str:
        """Write one edit, in a transaction of its own unless one is open; return its uid.

        Parameters
        ----------
        label
            What was done.
        changes
            Rows to add, change and remove, in order.
        made_by
            Who did it, where no person did; by default the name under which the person uses the computer.
        undoes
            Uid of the edit that this one takes back.
        can_undo
            Whether it goes on the pile of what can be taken back.

        Raises
        ------
        EditError
            If a value is none that the farm can hold, or a row would point at none.
        StoreError
            If the disk does not take it.
        """
        if not self._db.in_transaction:
            with self.transaction():
                return self.write(label, changes, made_by=made_by, undoes=undoes, can_undo=can_undo)
        edit_uid = new_uid()
        self.cursor.call_own(edit_uid)
        write_edit(self._db, self._srs_id, edit_uid, label, changes, made_by=made_by, undoes=undoes, can_undo=can_undo)
        return edit_uid

    def copy_log(self) -> CopyLog:
        """Return what joining the farm with a copy of it needs of its change log."""
        with self._settled():
            return copies.copy_log(self._db)

    def take_in(self, with_uid: str, edits: Iterable[EditMade], conflicts: Iterable[Conflict]) -> None:
        """Note which edits of a copy came with an edit, in the transaction that is open."""
        copies.take_in(self._db, with_uid, edits, conflicts)

    def open_conflicts(self) -> list[OpenConflict]:
        """Return what was changed in two copies and nobody has looked at since they were joined."""
        with self._settled():
            return copies.open_conflicts(self._db)

    def settle(self, numbers: Sequence[int]) -> None:
        """Note that a person has looked at conflicts, in the transaction that is open."""
        copies.settle(self._db, numbers, whose("")[0])

    def news(self, farm: Farm) -> list[LogEntry]:
        """Return what the change log tells since the last call, as changes of the farm that was made of all before."""
        with self._settled(), reading(self._db):
            (self._data_version,) = self._db.execute("PRAGMA data_version").fetchone()
            rows = log.rows_after(self._db, self._seen)
            if not rows:
                return []
            self._seen = rows[-1].change_id
            return list(log.entries(self._db, rows, farm, self.notes.append))

    def written_elsewhere(self) -> bool:
        """Whether another connection wrote to the file since the last look; costs next to nothing."""
        with self._settled():
            (version,) = self._db.execute("PRAGMA data_version").fetchone()
            return bool(version != self._data_version)

    def look_after(self) -> bool:
        """Take the file over from a program that is gone, or find it back; refuse, in words, where it is gone."""
        with self._settled():
            if not self._door.again(self.cursor.last_uid, person()):
                self._door.need_place()
                return False
        self._db, self.read_only, self._data_version = self._door.db, self._door.why, -1
        return True

    def only_read(self, why: Text) -> None:
        """Write nothing more, since the file is damaged."""
        self.read_only, self._door.damaged = why, True

    def changes_back(self, farm: Farm, edit_uid: str, label: Text) -> list[RowChange]:
        """Return the changes that take an edit back.

        Raises
        ------
        EditError
            If its rows were changed again since.
        """
        with self._settled():
            return undo.inverse(label, log.rows_of_edit(self._db, edit_uid), farm)

    def as_of(self, farm: Farm, edit_uid: str) -> Farm:
        """Return the farm as it was once an edit was made, from the farm as the file has it now.

        Raises
        ------
        StoreError
            If there is no such edit in the file.
        """
        with self._settled(), reading(self._db):
            return farm_as_of(self._db, farm, edit_uid, self.path.name)

    def catch_up(self) -> None:
        """Bring `cursor` up to the edits in the file."""
        with self._settled():
            self.cursor.catch_up(self._db)

    def history(self, newest: int | None = None) -> list[HistoryEntry]:
        """Return the edits in the file, newest first."""
        with self._settled():
            return history(self._db, newest)

    def close(self) -> None:
        """Close the file; nothing stays beside it."""
        self._reading.give_up()
        self._door.close()
