"""Long work off the window's thread: it tells how far it is, can be stopped, and is waited for in the end."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from pigmap.errors import PigmapError

Progress = Callable[[float], None]
Stop = Callable[[], bool]
Work = Callable[[Progress, Stop], Any]
"""Long work: takes how to tell its progress (0 to 1) and how to ask whether to stop, returns its result.

It may raise `PigmapError`; once told to stop it returns the best it has.
"""


class Poster(QObject):
    """Calls functions on the window's thread, whichever thread asks."""

    _asked = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._asked.connect(self._call)

    def post(self, call: Callable[[], None]) -> None:
        """Call a function soon on the window's thread; at once where it is asked for there."""
        self._asked.emit(call)

    @Slot(object)
    def _call(self, call: Callable[[], None]) -> None:
        call()


class Job(QObject):
    """One piece of long work; all its signals are sent on the window's thread."""

    progressed = Signal(float)
    """How much is done, 0 to 1."""
    done = Signal(object)
    """The result, also of work that was stopped."""
    failed = Signal(object)
    """The `PigmapError` that ended it."""
    ended = Signal()
    """Sent after either."""

    def __init__(self, work: Work, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._work = work
        self._poster = Poster(self)
        self._stop = threading.Event()
        self.fault: BaseException | None = None
        """A fault in the program that ended it; raised again by `wait`."""
        self._thread = threading.Thread(target=self._run, name="job", daemon=True)

    @Slot()
    def start(self) -> None:
        """Begin, unless it has begun or was stopped before."""
        if self._thread.ident is None and not self._stop.is_set():
            self._thread.start()

    def stop(self) -> None:
        """Ask it to stop; its result comes as `done`."""
        self._stop.set()

    @property
    def running(self) -> bool:
        """Whether it has not ended yet."""
        return self._thread.is_alive()

    def wait(self) -> None:
        """Wait until it has ended; one that was stopped before it began has."""
        self.start()
        if self._thread.ident is not None:
            self._thread.join()
        if self.fault is not None:
            raise self.fault

    def _run(self) -> None:
        # Only the poster is touched from this thread: a slot that is no method of a QObject would run here.
        post = self._poster.post
        try:
            result = self._work(lambda share: post(lambda: self.progressed.emit(share)), self._stop.is_set)
            post(lambda: self.done.emit(result))
        except PigmapError as refusal:
            refused = refusal
            post(lambda: self.failed.emit(refused))
        except BaseException as fault:  # noqa: BLE001  (kept for `wait`: a thread has nobody to raise it to)
            self.fault = fault
        post(self.ended.emit)


class Jobs(QObject):
    """The long work of one window; `close` stops all of it and waits."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._jobs: list[Job] = []

    def run(self, work: Work) -> Job:
        """Return the job of long work, which begins with the next turn of the event loop."""
        job = Job(work, self)
        self._jobs.append(job)
        # A lambda would keep this object alive until the job is deleted, and delete both at once then.
        job.ended.connect(self._forget)
        QTimer.singleShot(0, job.start)
        return job

    def close(self) -> None:
        """Stop all work and wait for it."""
        for job in list(self._jobs):
            job.stop()
            job.wait()
        self._jobs.clear()

    @Slot()
    def _forget(self) -> None:
        job = self.sender()
        if isinstance(job, Job) and job in self._jobs:
            self._jobs.remove(job)
            job.wait()
            job.deleteLater()
