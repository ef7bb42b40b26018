"""The way into one farm file as long as it is open: who may change it, and whether it is still in its place."""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path

from pigmap.errors import PigmapError, StoreError
from pigmap.store.connection import close
from pigmap.store.holder import Hold, Holder, take_hold
from pigmap.store.opening import open_checked
from pigmap.text import Text


class Door:
    """A connection to a farm file, and what may be done with it.

    Parameters
    ----------
    path
        The farm file.
    db
        Its connection.
    why
        Why it cannot be written, empty where it can.
    hold
        The right to change it, if that was taken.
    waits
        Whether another program has that right, and this one wants it next.
    """

    def __init__(
        self, path: Path, db: sqlite3.Connection, why: Text, hold: Hold | None = None, *, waits: bool = False
    ) -> None:
        self.path, self.db, self.why = path, db, why
        self.waits = waits
        self.damaged = False
        """Whether it was found to be damaged since it was opened."""
        self._hold = hold
        self._place = place_of(path)
        (self._document,) = db.execute("SELECT document_uid FROM pigmap_document").fetchone()

    @classmethod
    def open(cls, path: Path, *, read_only: bool = False, hold: bool = False, who: str = "") -> Door:
        """Open a farm file, and hold it where that is asked for; where another has it, it can only be read.

        Raises
        ------
        StoreError
            As `pigmap.store.opening.open_checked`.
        """
        taken = take_hold(path, who) if hold and not read_only and path.is_file() else None
        held_by = taken if isinstance(taken, Holder) else None
        right = taken if isinstance(taken, Hold) else None
        try:
            db, why = open_checked(path, read_only=read_only or held_by is not None)
            if held_by is not None:
                why = held_by.words(path.name)
            return cls(path, db, why, right, waits=held_by is not None)
        except BaseException:
            if right is not None:
                right.let_go()
            raise

    @property
    def remedy(self) -> str:
        """What would let it be written."""
        if self.damaged:
            return "Open a rescued copy of it, or its newest backup, and go on there."
        if self.waits:
            return "Change it in the other window, or close that one."
        return "Copy the farm file to a folder of your own and open it there to change it."

    def need_place(self) -> None:
        """Refuse to write into a file that is no longer found under its name: nobody would find it again.

        Raises
        ------
        StoreError
            If it was moved, renamed, removed or replaced, or its disk is gone.
        """
        if self._place is not None and place_of(self.path) != self._place:
            raise StoreError(
                "{file} is no longer in {folder}: it was moved or replaced, or its disk is gone.",
                remedy="Put it back there. Until then nothing can be changed; all that was shown as done is in it.",
                file=self.path.name,
                folder=str(self.path.absolute().parent),
            )

    def again(self, last_edit: str | None, who: str = "") -> bool:
        """Open the file anew if there is a reason to: its holder is gone, or it is back in its place.

        Parameters
        ----------
        last_edit
            Uid of the newest edit that was seen in it: only a file that has it is the same.
        who
            Who holds it from now on.

        Returns
        -------
        bool
            Whether `db` and `why` are others now.
        """
        if self._place is not None and place_of(self.path) != self._place:
            return self._come_back(last_edit)
        if not self.waits:
            return False
        taken = take_hold(self.path, who)
        if isinstance(taken, Holder):
            return False
        self.waits = False
        self._hold = taken
        self._change_to(*open_checked(self.path))
        return True

    def _come_back(self, last_edit: str | None) -> bool:
        """Go on with the file that lies in its place again, if it is the one that was open."""
        if place_of(self.path) is None:
            return False
        try:
            db, why = open_checked(self.path, read_only=bool(self.why))
        except (PigmapError, OSError):
            return False
        if not self._is_same(db, last_edit):
            db.close()
            return False
        self._change_to(db, self.why or why)
        return True

    def _is_same(self, db: sqlite3.Connection, last_edit: str | None) -> bool:
        (document,) = db.execute("SELECT document_uid FROM pigmap_document").fetchone()
        has = db.execute("SELECT 1 FROM pigmap_edits WHERE edit_uid = ?", (last_edit,)).fetchone()
        return bool(document == self._document and (has is not None or last_edit is None))

    def _change_to(self, db: sqlite3.Connection, why: Text) -> None:
        old, self.db, self.why = self.db, db, why
        self._place = place_of(self.path)
        old.close()

    def close(self) -> None:
        """Close the connection so that nothing stays beside the file, and let another program have it."""
        try:
            close(self.db, read_only=bool(self.why))
        finally:
            if self._hold is not None:
                self._hold.let_go()


def place_of(path: Path) -> tuple[int, int] | None:
    """Return what tells a file from any other on this computer; None where it is not there, or nothing tells."""
    try:
        found = os.stat(path)
    except OSError:
        return None
    return (found.st_dev, found.st_ino) if found.st_ino else None
