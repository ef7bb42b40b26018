"""Backups while one works: soon after a farm is opened, then every half hour in which something changed."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import QObject, QTimer

from pigmap.errors import PigmapError
from pigmap.qt.following import sentence
from pigmap.qt.jobs import Jobs
from pigmap.qt.stage import Stage
from pigmap.session.backups import keep_backup

FIRST_MS = 10_000
EVERY_MS = 30 * 60_000
"""Own choice, as is `FIRST_MS`."""


class BackingUp(QObject):
    """Keeps backups off the window's thread; what stands against it is said once.

    Parameters
    ----------
    stage
        What the window shows; the farm that anyone can try things on has none.
    jobs
        Work off the window's thread.
    first_ms, every_ms
        When the first is kept, and how far apart the others are.
    """

    def __init__(self, stage: Stage, jobs: Jobs, first_ms: int = FIRST_MS, every_ms: int = EVERY_MS) -> None:
        super().__init__(jobs)  # no longer there than what it works with
        self._stage, self._jobs = stage, jobs
        self._said: set[str] = set()
        self._timer = QTimer(self, interval=every_ms)
        self._timer.timeout.connect(self.keep)
        if stage.session.farm.setting("sample") or stage.session.read_only:
            return
        self._timer.start()
        QTimer.singleShot(first_ms, self, self.keep)

    def keep(self) -> None:
        """Keep one now, if there is anything new."""
        path = self._stage.session.path
        job = self._jobs.run(lambda progress, stop: keep_backup(path, datetime.now(), stop))  # a person's clock
        job.failed.connect(self._say)

    def _say(self, why: object) -> None:
        if isinstance(why, PigmapError) and str(why) not in self._said:
            self._said.add(str(why))
            self._stage.notice(sentence(why), "care")
