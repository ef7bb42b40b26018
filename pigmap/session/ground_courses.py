"""The course of a field's ground, looked up on a thread of its own; never that of ground which is another by now."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date

from pigmap.ground import FieldGround
from pigmap.ground.course import Course, course_of
from pigmap.session.ground_worker import GroundWorker

MOST_KEPT = 8
"""Courses that are kept, the last asked for."""
Asked = tuple[FieldGround, tuple[date, ...]]


class GroundCourses:
    """Courses by ground and days.

    Parameters
    ----------
    post
        Brings a function to the thread on which the farm is shown; None where everything works in line.
    arrived
        Called there once a course is there that `course` could not give yet.
    rest_from
        First day of each class of rest [d].
    """

    def __init__(
        self,
        post: Callable[[Callable[[], None]], None] | None,
        arrived: Callable[[], None],
        rest_from: Sequence[int],
    ) -> None:
        self._arrived = arrived
        self._rest_from = tuple(rest_from)
        self._kept: list[tuple[Asked, Course]] = []
        self._asked: Asked | None = None
        self._version = 0
        self._worker: GroundWorker[Course] | None = GroundWorker(post, self._take) if post is not None else None

    def course(self, ground: FieldGround, days: tuple[date, ...]) -> Course | None:
        """Return the course of some ground; None while it is looked up, and `arrived` is called once it is there."""
        for (known, its), course in self._kept:
            if known is ground and its == days:
                return course
        if self._worker is None:
            return self._keep((ground, days), course_of(ground, days, self._rest_from))
        if self._asked is None or self._asked[0] is not ground or self._asked[1] != days:
            self._asked = ground, days
            self._version += 1
            self._worker.forget(_ONE)  # nobody waits for the one before
            self._worker.want(_ONE, self._version, lambda stop: course_of(ground, days, self._rest_from, stop))
        return None

    def settle(self) -> None:
        """Wait until what was asked for is there; on the thread on which the farm is shown."""
        if self._worker is not None:
            self._worker.settle()

    def close(self) -> None:
        """Stop, and wait for the thread."""
        if self._worker is not None:
            self._worker.close()

    def _take(self, _: str, version: int, course: Course) -> None:
        if version == self._version and self._asked is not None:
            self._keep(self._asked, course)
            self._asked = None
            self._arrived()

    def _keep(self, asked: Asked, course: Course) -> Course:
        self._kept = [(asked, course), *self._kept][:MOST_KEPT]
        return course


_ONE = "course"
"""The worker looks up one course at a time."""
