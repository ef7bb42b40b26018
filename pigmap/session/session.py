"""An open farm: edits go in, new states of the farm come out; nothing else makes a farm."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import Future
from datetime import date, datetime
from functools import cached_property
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any

from pigmap.errors import StoreError
from pigmap.paths import cache_folder
from pigmap.plugins import Registry
from pigmap.records import ChangeSet, Edit, Farm, Projection, Setting, add
from pigmap.records.frozen import dataclass
from pigmap.session.history import HistoryEntry, read_history
from pigmap.session.writer import CopyOfFarm, InLine, Job, Outcome, Published, Runner, Thread, Writer
from pigmap.store import FarmFile, Reach
from pigmap.text import Text

if TYPE_CHECKING:
    from pigmap.session.ground_keeper import GroundKeeper
    from pigmap.session.seen_ground import SeenGround


@dataclass(frozen=True, slots=True)
class Past:
    """A moment in which a farm was as it is shown."""

    at: datetime
    """When the edit was made, with its time zone."""
    label: Text
    """What was done then."""


Post = Callable[[Callable[[], None]], None]
"""Runs a function on the thread on which the farm is shown, soon."""


def _opened(path: Path, *, hold: bool) -> FarmFile:
    """Open a farm file; where it cannot be, its newest backup is named."""
    try:
        return FarmFile.open(path, hold=hold)
    except StoreError as why:
        from pigmap.session.backups import newest_words  # a farm that opens does without

        newest = newest_words(path)
        if newest is None:
            raise
        remedy = Text("{remedy} {newest}", {"remedy": why.remedy, "newest": newest})
        raise StoreError(why.message, remedy=remedy) from why


class Session:
    """One open farm and its one writer.

    With no `post` the writer works in line: `do` returns when the edit is on disk and published. With one, it works
    on a thread of its own and publishes through it; the futures then end on that thread, so what they call back
    must not touch the screen.
    """

    def __init__(
        self,
        file: FarmFile,
        post: Post | None,
        registry: Registry | None,
        made_by: str = "",
        later_than: date | None = None,
    ) -> None:
        self.path = file.path
        self.read_only = file.read_only
        """Why the farm can only be looked at; empty where it can be changed."""
        self.past: Past | None = None
        """The moment in which the farm is shown; None where it is shown as it is."""
        self.post = post
        """Brings a function to the thread on which the farm is shown; None where everything works in line."""
        self._registry = registry
        self._listeners: list[Callable[[Published], None]] = []
        self.rights_changed: Callable[[Text], None] = lambda _: None
        """Called where the farm is shown when `read_only` is another one, with what it was."""
        self._closed = False
        self._writer = Writer(file, made_by, later_than)
        self.notes = file.notes
        """What in the file could not be read, in words."""
        self._reach = self._writer.outcome(()).reach
        self._farm = self._writer.farm
        self._runner: Runner = (
            InLine(self._publish, file.close) if post is None else Thread(self._publish, file.close, post)
        )

    @classmethod
    def open(
        cls,
        path: Path,
        *,
        post: Post | None = None,
        registry: Registry | None = None,
        made_by: str = "",
        hold: bool = False,
        later_than: date | None = None,
    ) -> Session:
        """Open a farm file.

        Parameters
        ----------
        path
            The farm file.
        post
            Brings a function to the thread on which the farm is shown.
        registry
            The contributed parts.
        made_by
            Who makes the edits, where no person does.
        hold
            Whether to be the only one who changes it, as a window is; where another window has it, this one shows
            what is done there, and can change the farm once that one is gone. Scripts take turns, edit by edit.
        later_than
            Of very many daily checks only those of this day and later are read at once, the others when somebody asks
            for them or with the first `look`; until then nobody can change the farm. None reads all at once.

        Raises
        ------
        StoreError
            If it is missing, cut short, damaged, no farm file, or of a newer program.
        """
        return cls._of(_opened(path, hold=hold), post, registry, made_by, later_than)

    @classmethod
    def create(
        cls,
        path: Path,
        projection: Projection,
        name: str,
        *,
        settings: Mapping[str, Any] = {},
        post: Post | None = None,
        registry: Registry | None = None,
        made_by: str = "",
    ) -> Session:
        """Make a farm file with nothing in it but the farm's name and first settings, and open it.

        Raises
        ------
        StoreError
            If there is a file of that name, or the folder is missing, read-only or full.
        """
        first = {"farm name": name, **settings}
        rows = [add(Setting(key=key, value_json=json.dumps(value, ensure_ascii=False))) for key, value in first.items()]
        return cls._of(FarmFile.create(path, projection, rows, made_by=made_by), post, registry, made_by)

    @classmethod
    def _of(cls, file: FarmFile, *given: Any) -> Session:
        try:
            return cls(file, *given)
        except BaseException:
            file.close()
            raise

    @property
    def farm(self) -> Farm:
        """The farm as it was last published."""
        return self._farm

    @property
    def registry(self) -> Registry:
        """The contributed parts, looked up on first use."""
        if self._registry is None:
            self._registry = Registry(kept_in=cache_folder())
        return self._registry

    @cached_property
    def ground(self) -> GroundKeeper:
        """The state of the ground of every field, kept up to date."""
        from pigmap.session.ground_keeper import GroundKeeper  # it needs a session, and most commands do not need it

        return GroundKeeper(self)

    @cached_property
    def seen(self) -> SeenGround:
        """The ground as it is coloured, with what some ways to colour it ask for besides."""
        from pigmap.session.seen_ground import SeenGround

        return SeenGround(self)

    @property
    def reach(self) -> Reach:
        """What `undo` and `redo` would do, as it was last published."""
        return self._reach

    @property
    def undo_label(self) -> Text | None:
        """What `undo` would take back, None where there is nothing."""
        return self._reach.undo.label if self._reach.undo is not None else None

    @property
    def redo_label(self) -> Text | None:
        """What `redo` would do again, None where there is nothing."""
        return self._reach.redo.label if self._reach.redo is not None else None

    def do(self, edit: Edit) -> Future[ChangeSet]:
        """Make an edit on the newest farm; a refused one ends its future with the reason, and publishes nothing."""
        return self._run(lambda: self._writer.do(edit))

    def undo(self) -> Future[ChangeSet]:
        """Take the newest edit back; refused where another program came in between, for it is not `undo_label` then."""
        seen = self._reach
        return self._run(lambda: self._writer.undo(seen))

    def redo(self) -> Future[ChangeSet]:
        """Do again what was taken back last; refused where another program came in between."""
        seen = self._reach
        return self._run(lambda: self._writer.redo(seen))

    def join(self, copy: CopyOfFarm) -> Future[ChangeSet]:
        """Bring in what was done in a copy of the farm; refused where it is none, or nothing new is in it."""
        return self._run(lambda: self._writer.join(copy))

    def settle(self, numbers: Sequence[int], edit: Edit) -> Future[ChangeSet]:
        """Note that a person has looked at what was changed in two copies, and make what they chose."""
        return self._run(lambda: self._writer.settle(numbers, edit))

    def poll(self) -> bool:
        """Look for edits of other programs; whether there were any.

        With a writer thread the look is only queued and the answer is False: what it finds is published.
        """
        before = self._farm
        self.look()
        return self._farm is not before

    def look(self) -> Future[ChangeSet]:
        """Look for edits of other programs, whether the farm can be changed now, and whether its file is still there.

        The future ends with a `StoreError` where the file cannot be read.
        """
        return self._run(self._writer.look)

    def only_read(self, why: Text) -> Future[ChangeSet]:
        """Write nothing more into the file, for a reason: it is damaged."""
        return self._run(lambda: self._writer.only_read(why))

    def _run(self, job: Job) -> Future[ChangeSet]:
        if not self._closed:
            return self._runner.run(job)
        future: Future[ChangeSet] = Future()
        future.set_exception(StoreError("{file} is closed.", remedy="Open it again to change it.", file=self.path.name))
        return future

    def history(self, newest: int | None = None) -> list[HistoryEntry]:
        """Return what was done to the farm, newest first: when, who, what."""
        return read_history(self.path, newest)

    def listen(self, fn: Callable[[Published], None], *, first: bool = False) -> Callable[[], None]:
        """Call a function with every new state of the farm, before all others if asked; returns what ends that."""
        self._listeners.insert(0 if first else len(self._listeners), fn)

        def unlisten() -> None:
            if fn in self._listeners:
                self._listeners.remove(fn)

        return unlisten

    def close(self) -> None:
        """Finish what is queued and close the farm file."""
        if self._closed:
            return
        self._closed = True
        for keeper in (self.__dict__.get("seen"), self.__dict__.get("ground")):
            if keeper is not None:
                keeper.close()
        self._runner.close()

    def __enter__(self) -> Session:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, traceback: TracebackType | None
    ) -> None:
        self.close()

    def _publish(self, outcome: Outcome) -> None:
        self._reach = outcome.reach
        was, self.read_only = self.read_only, outcome.read_only
        if was != self.read_only:
            self.rights_changed(was)
        for published in outcome.published:
            self._farm = published.farm
            for fn in tuple(self._listeners):
                fn(published)
