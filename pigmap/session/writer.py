"""The one writer of a farm: takes edits in order, puts them on disk, and tells what the farm file then reports."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import replace
from datetime import date
from typing import NamedTuple, Protocol

from pigmap.errors import EditError
from pigmap.records import ChangeSet, Edit, Farm, RowChange
from pigmap.records.frozen import dataclass
from pigmap.session.between import refuse_between
from pigmap.store import FarmFile, LogEntry, Reach, Step
from pigmap.store.copies import Conflict, CopyLog, EditMade
from pigmap.text import Text


@dataclass(frozen=True, slots=True)
class Published:
    """A new state of the farm, what changed to it, and what was done."""

    farm: Farm
    changes: ChangeSet
    label: Text


@dataclass(frozen=True, slots=True)
class Outcome:
    """What one job of the writer came to."""

    published: tuple[Published, ...]
    changes: ChangeSet
    reach: Reach
    """What can be undone and done again now."""
    read_only: Text = Text("")
    """Why the farm can only be looked at now; empty where it can be changed."""
    refused: EditError | None = None
    """Why what was asked for was not done, where others' edits are to be shown all the same."""


class _Asked(NamedTuple):
    label: Text
    rows: Sequence[RowChange]
    undoes: Step | None = None


class _NothingChanged(Exception):  # noqa: N818  (it is no error: it ends an edit that leaves no trace)
    pass


class Joining(NamedTuple):
    """What joining a farm with a copy of it comes to."""

    label: Text
    changes: Sequence[RowChange]
    edits: Sequence[EditMade]
    """What was done in the copy and not here."""
    conflicts: Sequence[Conflict]


class CopyOfFarm(Protocol):
    """A copy of the farm that was edited apart."""

    def joining(self, farm: Farm, log: CopyLog) -> Joining:
        """Return what joining it with the farm comes to."""


class Writer:
    """Does the jobs, one after another, on the newest farm. One thread at a time may use it."""

    def __init__(self, file: FarmFile, made_by: str = "", later_than: date | None = None) -> None:
        self.file = file
        self.farm = file.read(later_than)
        self._made_by = made_by

    def do(self, edit: Edit) -> Outcome:
        """Make an edit on the newest farm and put it on disk.

        Raises
        ------
        EditError
            If it cannot be done on the farm as it is now.
        StoreError
            If the disk does not take it; nothing has changed then.
        """

        def asked(farm: Farm) -> _Asked:
            rows = edit(farm)
            return _Asked(edit.label_of(rows), rows)

        return self._write(asked, can_undo=edit.can_undo)

    def undo(self, seen: Reach) -> Outcome:
        """Take the newest edit back, by an edit, if it is the one that a person saw or has made since."""
        return self._go(lambda farm: self._undo(farm, seen))

    def redo(self, seen: Reach) -> Outcome:
        """Do again what was taken back last, by an edit, if a person saw it or has taken it back since."""
        return self._go(lambda farm: self._redo(farm, seen))

    def join(self, copy: CopyOfFarm) -> Outcome:
        """Bring in what was done in a copy of the farm that was edited apart.

        Raises
        ------
        EditError
            If it is no copy of this farm, or one to which nothing was done that is not here.
        """
        with self.file.transaction():
            others = self.file.news(self.farm)
            farm = self._with(others)
            self.file.catch_up()
            joining = copy.joining(farm, self.file.copy_log())
            made = self.file.write(
                joining.label, joining.changes, made_by=self._made_by, can_undo=bool(joining.changes)
            )
            self.file.take_in(made, joining.edits, joining.conflicts)
            own = self.file.news(farm)
        return self._after(others, own, joining.label)

    def settle(self, numbers: Sequence[int], edit: Edit) -> Outcome:
        """Note that a person has looked at what was changed in two copies, and make what they chose."""
        with self.file.transaction():
            others = self.file.news(self.farm)
            farm = self._with(others)
            self.file.catch_up()
            rows = edit(farm)
            if rows:
                self.file.write(edit.label, rows, made_by=self._made_by)
            self.file.settle(numbers)
            own = self.file.news(farm)
        return self._after(others, own, edit.label)

    def look(self) -> Outcome:
        """Pick up what other programs wrote, and take the file over where its holder is gone."""
        if not (self.file.look_after() or self.file.written_elsewhere()):
            return self.outcome(())
        news = self.file.news(self.farm)
        self.file.catch_up()
        return self._after(news, own=())

    def outcome(self, published: Sequence[Published], changes: ChangeSet | None = None) -> Outcome:
        """Return an outcome with what can be undone and done again now."""
        told = changes if changes is not None else ChangeSet(())
        return Outcome(tuple(published), told, self.file.cursor.reach, self.file.read_only)

    def only_read(self, why: Text) -> Outcome:
        """Write nothing more, for a reason."""
        self.file.only_read(why)
        return self.outcome(())

    def _go(self, asked: Callable[[Farm], _Asked]) -> Outcome:
        try:
            return self._write(asked)
        except EditError as refused:
            # What keeps it from being done is another program's as a rule: a person has to see that to go on.
            return replace(self.look(), refused=refused)

    def _undo(self, farm: Farm, seen: Reach) -> _Asked:
        step = self.file.cursor.reach.undo
        refuse_between(self.file.cursor, seen, step, again="undo")
        if step is None:
            raise EditError("There is nothing to undo.", remedy="Everything that can be taken back has been.")
        return self._back(farm, step, Text("Undone: {label}", {"label": step.label}))

    def _redo(self, farm: Farm, seen: Reach) -> _Asked:
        step = self.file.cursor.reach.redo
        refuse_between(self.file.cursor, seen, step, again="redo")
        if step is None:
            raise EditError(
                "There is nothing to do again.", remedy="Only what was just undone can be, until something new is done."
            )
        return self._back(farm, step, Text("Done again: {label}", {"label": step.label}))

    def _back(self, farm: Farm, step: Step, label: Text) -> _Asked:
        return _Asked(label, self.file.changes_back(farm, step.edit_uid, step.label), step)

    def _write(self, asked: Callable[[Farm], _Asked], *, can_undo: bool = True) -> Outcome:
        try:
            with self.file.transaction():
                # What others wrote since belongs to the newest farm; holding the file, nothing can come between.
                others = self.file.news(self.farm)
                farm = self._with(others)
                self.file.catch_up()
                label, rows, step = asked(farm)
                undoes = None if step is None else step.edit_uid
                self.file.write(label, rows, made_by=self._made_by, undoes=undoes, can_undo=can_undo)
                own = self.file.news(farm)
                if not own and step is None:
                    raise _NothingChanged
        except _NothingChanged:
            return self.outcome(())
        return self._after(others, own, label if step is None else step.label)

    def _with(self, entries: Sequence[LogEntry]) -> Farm:
        farm = self.farm
        for entry in entries:
            farm = farm.after(entry.changes.rows)
        return farm

    def _after(
        self,
        others: Sequence[LogEntry],
        own: Sequence[LogEntry],
        label: Text | None = None,
    ) -> Outcome:
        published = []
        for entry in (*others, *own):
            self.farm = self.farm.after(entry.changes.rows)
            published.append(Published(self.farm, entry.changes, entry.label))
        return self.outcome(published, ChangeSet.joined((entry.changes for entry in own), label))


Job = Callable[[], Outcome]
Publish = Callable[[Outcome], None]


class InLine:
    """Runs each job at once where it is asked for: scripts and tests."""

    def __init__(self, publish: Publish, close: Callable[[], None]) -> None:
        self._publish = publish
        self._close = close

    def run(self, job: Job) -> Future[ChangeSet]:
        """Do a job now; the future that comes back is done."""
        future: Future[ChangeSet] = Future()
        try:
            outcome = job()
        except Exception as error:  # noqa: BLE001  (whatever an edit raises belongs to its future, as on a thread)
            future.set_exception(error)
            return future
        self._publish(outcome)
        if outcome.refused is not None:
            future.set_exception(outcome.refused)
        else:
            future.set_result(outcome.changes)
        return future

    def close(self) -> None:
        """Close the farm file."""
        self._close()


class Thread:
    """Runs the jobs on one thread of its own, in the order in which they came, and publishes through `post`."""

    def __init__(self, publish: Publish, close: Callable[[], None], post: Callable[[Callable[[], None]], None]) -> None:
        self._publish = publish
        self._close = close
        self._post = post
        self._thread = ThreadPoolExecutor(max_workers=1, thread_name_prefix="farm writer")

    def run(self, job: Job) -> Future[ChangeSet]:
        """Queue a job; its future ends once the edit is on disk and posted."""
        return self._thread.submit(self._one, job)

    def _one(self, job: Job) -> ChangeSet:
        outcome = job()
        self._post(lambda: self._publish(outcome))
        if outcome.refused is not None:
            raise outcome.refused
        return outcome.changes

    def close(self) -> None:
        """Finish what is queued, close the farm file, and wait for the thread to end."""
        self._thread.submit(self._close)
        self._thread.shutdown(wait=True)


Runner = InLine | Thread
