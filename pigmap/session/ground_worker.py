"""One thread that prepares ground or what follows from it, the field that was asked for last first."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from threading import Condition, Thread
from typing import Generic, NamedTuple, TypeVar

from pigmap.ground import Stopped

Made = TypeVar("Made")


class _Job(NamedTuple, Generic[Made]):
    field_uid: str
    version: int
    make: Callable[[Callable[[], bool]], Made]
    """Prepares it; is given what says whether to stop."""


class _Done(NamedTuple, Generic[Made]):
    job: _Job[Made]
    ground: Made | None
    fault: BaseException | None


class GroundWorker(Generic[Made]):
    """Prepares ground on a thread of its own, and hands it over on the one on which the farm is shown.

    Parameters
    ----------
    post
        Brings a function to the thread on which the farm is shown.
    arrived
        Called there with the uid of the field, the version it was asked for, and its ground.
    """

    def __init__(self, post: Callable[[Callable[[], None]], None], arrived: Callable[[str, int, Made], None]) -> None:
        self._post, self._arrived = post, arrived
        self._changed = Condition()
        self._wanted: dict[str, _Job[Made]] = {}
        self._running: _Job[Made] | None = None
        self._done: deque[_Done[Made]] = deque()
        self._closed = False
        self._thread: Thread | None = None

    def want(self, field_uid: str, version: int, make: Callable[[Callable[[], bool]], Made]) -> None:
        """Ask for the ground of a field at a version; it comes before all that was asked for earlier."""
        with self._changed:
            running = self._running
            if self._closed or (running is not None and running[:2] == (field_uid, version)):
                return
            self._wanted.pop(field_uid, None)
            self._wanted[field_uid] = _Job(field_uid, version, make)
            if self._thread is None:
                self._thread = Thread(target=self._work, name="ground", daemon=True)
                self._thread.start()
            self._changed.notify_all()

    def forget(self, field_uid: str) -> None:
        """Stop what is done for a field."""
        with self._changed:
            self._wanted.pop(field_uid, None)
            if self._running is not None and self._running.field_uid == field_uid:
                self._running = None  # the job sees that it is no longer the one that runs

    def settle(self) -> None:
        """Wait until nothing is wanted, and hand over what is done; on the thread on which the farm is shown."""
        while True:
            with self._changed:
                self._changed.wait_for(self._is_idle)
            if not self._hand_over():
                return

    def close(self) -> None:
        """Stop, and wait for the thread to end."""
        with self._changed:
            self._closed = True
            self._wanted.clear()
            self._running = None
            self._changed.notify_all()
        if self._thread is not None:
            self._thread.join()

    def _is_idle(self) -> bool:
        return self._closed or (not self._wanted and self._running is None)

    def _work(self) -> None:
        while (job := self._next()) is not None:
            done = self._made(job)
            with self._changed:
                if self._running is job:
                    self._running = None
                if done is not None:
                    self._done.append(done)
                self._changed.notify_all()
            if done is not None and not self._closed:
                self._post(self._deliver)

    def _next(self) -> _Job[Made] | None:
        with self._changed:
            self._changed.wait_for(lambda: self._closed or bool(self._wanted))
            if self._closed:
                return None
            _, self._running = self._wanted.popitem()
            return self._running

    def _made(self, job: _Job[Made]) -> _Done[Made] | None:
        try:
            return _Done(job, job.make(lambda: self._running is not job), None)
        except Stopped:
            return None
        except Exception as fault:  # noqa: BLE001 - a fault of the program must not die with the thread
            return _Done(job, None, fault)

    def _deliver(self) -> None:
        self._hand_over()

    def _hand_over(self) -> bool:
        """Hand over what is done; whether there was anything."""
        found = False
        while self._done:
            done = self._done.popleft()
            found = True
            if done.fault is not None:
                raise done.fault
            if done.ground is not None and not self._closed:
                self._arrived(done.job.field_uid, done.job.version, done.ground)
        return found
