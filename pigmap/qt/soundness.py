"""Is the farm file sound: looked through in the background while one works, and said where it is not."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import QObject, Signal

from pigmap.qt.jobs import Job, Jobs
from pigmap.qt.stage import Stage
from pigmap.session.rescuing import Backup, backup_opened, rescued
from pigmap.store.health import Looked, look_through
from pigmap.text import Text

PLATE = "farm-file"
"""Name of the plate that tells of it, and of the deed that opens that."""


class Soundness(QObject):
    """Looks a farm file through off the window's thread, and keeps what came of it; one for each stage.

    Where something is wrong nothing more is written into the file.
    """

    changed = Signal()
    """It began, is further, or has ended."""

    def __init__(self, stage: Stage) -> None:
        super().__init__(stage)
        self._stage = stage
        self._jobs = Jobs(self)
        self._job: Job | None = None
        self.share = 0.0
        """How much is looked through, 0 to 1."""
        self.looked: Looked | None = None
        """What the last look came to; None before the first has ended."""
        self.ended_at: datetime | None = None

    @property
    def running(self) -> bool:
        """Whether it is being looked through."""
        return self._job is not None

    def look(self) -> None:
        """Look it through, unless that is being done."""
        if self._job is not None:
            return
        path, self.share = self._stage.session.path, 0.0
        self._job = self._jobs.run(lambda progress, stop: look_through(path, progress, stop))
        self._job.progressed.connect(self._further)
        self._job.done.connect(self._done)
        self._job.ended.connect(self._ended)
        self.changed.emit()

    def stop(self) -> None:
        """Stop looking."""
        if self._job is not None:
            self._job.stop()

    def rescue(self) -> Job:
        """Write a rescued copy; the job's result is the farm to open (`Made`)."""
        path = self._stage.session.path
        return self._jobs.run(lambda progress, stop: rescued(path, progress))

    def go_back(self, backup: Backup) -> Job:
        """Write a backup beside the farm file; the job's result is the farm to open (`Made`)."""
        path = self._stage.session.path
        return self._jobs.run(lambda progress, stop: backup_opened(backup, path))

    def _further(self, share: float) -> None:
        if share - self.share >= 0.01 or share >= 1:
            self.share = share
            self.changed.emit()

    def _done(self, looked: object) -> None:
        if not isinstance(looked, Looked):
            return
        self.looked = looked
        self.ended_at = datetime.now() if looked.whole else None
        if looked.damaged and not self._stage.session.read_only:
            why = Text(
                "{file} is not sound, so nothing more is written into it.", {"file": self._stage.session.path.name}
            )
            self._stage.session.only_read(why)
        elif looked.damaged:
            self.tell()

    def tell(self) -> None:
        """Say that something is wrong, with the way to the plate."""
        if self.looked is None or not self.looked.damaged:
            return
        words = Text(
            "{file} is not sound: {first} Nothing more is written into it.",
            {"file": self._stage.session.path.name, "first": self.looked.found[0]},
        )
        self._stage.notice(words, "refused", PLATE)

    def _ended(self) -> None:
        self._job = None
        self.changed.emit()

    def close(self) -> None:
        """Stop, and wait for what is being written."""
        self._jobs.close()


def soundness_of(stage: Stage) -> Soundness:
    """Return what looks after the farm file of a stage."""
    return stage.findChild(Soundness) or Soundness(stage)
