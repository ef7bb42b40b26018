"""The one writer of a farm: takes edits in order, puts them on disk, and tells what the farm file then reports."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass

from pigmap.errors import EditError
from pigmap.records import ChangeSet, Edit, Farm, RowChange
from pigmap.store import FarmFile, LogEntry
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
    undo_label: Text | None
    redo_label: Text | None


class _NothingChanged(Exception):  # noqa: N818  (it is no error: it ends an edit that leaves no trace)
    pass


class Writer:
    """Does the jobs, one after another, on the newest farm. One thread at a time may use it."""

    def __init__(self, file: FarmFile, made_by: str = "") -> None:
        self.file = file
        self.farm = file.read()
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
        return self._write(lambda farm: (edit.label, edit(farm), None), can_undo=edit.can_undo)

    def undo(self) -> Outcome:
        """Take the newest edit back, by an edit."""
        return self._write(self._undo)

    def redo(self) -> Outcome:
        """Do again what was taken back last, by an edit."""
        return self._write(self._redo)

    def look(self) -> Outcome:
        """Pick up what other programs wrote."""
        if not self.file.written_elsewhere():
            return self.outcome(())
        news = self.file.news(self.farm)
        self.file.catch_up()
        return self._after(news, own=())

    def outcome(self, published: Sequence[Published], changes: ChangeSet | None = None) -> Outcome:
        """Return an outcome with what can be undone and done again now."""
        done, undone = self.file.cursor.done, self.file.cursor.undone
        return Outcome(
            tuple(published),
            changes if changes is not None else ChangeSet(()),
            done[-1].label if done else None,
            undone[-1].label if undone else None,
        )

    def _undo(self, farm: Farm) -> tuple[Text, Sequence[RowChange], str | None]:
        if not self.file.cursor.done:
            raise EditError("There is nothing to undo.", remedy="Everything that can be taken back has been.")
        step = self.file.cursor.done[-1]
        rows = self.file.changes_back(farm, step.edit_uid, step.label)
        return Text("Undone: {label}", {"label": step.label}), rows, step.edit_uid

    def _redo(self, farm: Farm) -> tuple[Text, Sequence[RowChange], str | None]:
        if not self.file.cursor.undone:
            raise EditError(
                "There is nothing to do again.", remedy="Only what was just undone can be, until something new is done."
            )
        step = self.file.cursor.undone[-1]
        rows = self.file.changes_back(farm, step.edit_uid, step.label)
        return Text("Done again: {label}", {"label": step.label}), rows, step.edit_uid

    def _write(
        self, asked: Callable[[Farm], tuple[Text, Sequence[RowChange], str | None]], *, can_undo: bool = True
    ) -> Outcome:
        try:
            with self.file.transaction():
                # What others wrote since belongs to the newest farm; holding the file, nothing can come between.
                others = self.file.news(self.farm)
                farm = self._with(others)
                self.file.catch_up()
                label, rows, undoes = asked(farm)
                self.file.write(label, rows, made_by=self._made_by, undoes=undoes, can_undo=can_undo)
                own = self.file.news(farm)
                if not own and undoes is None:
                    raise _NothingChanged
        except _NothingChanged:
            return self.outcome(())
        return self._after(others, own)

    def _with(self, entries: Sequence[LogEntry]) -> Farm:
        farm = self.farm
        for entry in entries:
            farm = farm.after(entry.changes.rows)
        return farm

    def _after(self, others: Sequence[LogEntry], own: Sequence[LogEntry]) -> Outcome:
        published = []
        for entry in (*others, *own):
            self.farm = self.farm.after(entry.changes.rows)
            published.append(Published(self.farm, entry.changes, entry.label))
        return self.outcome(published, ChangeSet.joined(entry.changes for entry in own))


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
        return outcome.changes

    def close(self) -> None:
        """Finish what is queued, close the farm file, and wait for the thread to end."""
        self._thread.submit(self._close)
        self._thread.shutdown(wait=True)


Runner = InLine | Thread
