"""A farm as it was at a moment of its history, to be looked at and not to be changed."""

from __future__ import annotations

from concurrent.futures import Future
from pathlib import Path

from pigmap.errors import StoreError
from pigmap.records import ChangeSet
from pigmap.session.session import Past, Post, Session
from pigmap.session.writer import Job
from pigmap.store import FarmFile, Reach
from pigmap.text import Text


def open_past(path: Path, edit_uid: str, *, post: Post | None = None) -> Session:
    """Open a farm file and show the farm as it was once an edit was made; nothing that was done since comes in.

    Raises
    ------
    StoreError
        As `Session.open`; also if there is no such edit in its history.
    """
    file = FarmFile.open(path, read_only=True)
    try:
        return _PastSession(file, post, edit_uid)
    except BaseException:
        file.close()
        raise


class _PastSession(Session):
    def __init__(self, file: FarmFile, post: Post | None, edit_uid: str) -> None:
        super().__init__(file, post, None)
        self._farm = self._writer.farm = file.as_of(self._farm, edit_uid)
        entry = next(each for each in file.history() if each.edit_uid == edit_uid)
        self._reach = Reach()
        self.past = Past(entry.made_at, entry.label)
        self.read_only = Text("The farm as it was then can be looked at and printed, not changed.")

    def _run(self, job: Job) -> Future[ChangeSet]:
        refused: Future[ChangeSet] = Future()
        refused.set_exception(StoreError(self.read_only, remedy="Go back to the farm as it is now to change it."))
        return refused

    def look(self) -> Future[ChangeSet]:
        """Look for nothing: what others do belongs to now."""
        nothing: Future[ChangeSet] = Future()
        nothing.set_result(ChangeSet(()))
        return nothing
