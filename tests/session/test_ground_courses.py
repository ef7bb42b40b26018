from __future__ import annotations

from collections.abc import Callable
from datetime import date

from pigmap.drawing.tokens import REST_FROM_DAY
from pigmap.ground import FieldGround, prepare
from pigmap.ground.course import days_between
from pigmap.session.ground_courses import GroundCourses
from tests.ground.invented import farm, field, herd, on, stay

DAYS = days_between(on(0), on(100), 20)


def ground(last: int = 10) -> FieldGround:
    return prepare(farm(field(), *herd(), stay("s", 2, last)), "f")


def test_in_line_a_course_is_there_at_once_and_kept() -> None:
    courses = GroundCourses(None, lambda: None, REST_FROM_DAY)
    its = ground()
    course = courses.course(its, DAYS)
    assert course is not None
    assert course.ground is its
    assert courses.course(its, DAYS) is course


class Posted:
    """Collects what a worker posts, as a window's thread does."""

    def __init__(self) -> None:
        self.waiting: list[Callable[[], None]] = []
        self.arrived = 0
        self.courses = GroundCourses(self.waiting.append, self._arrive, REST_FROM_DAY)

    def _arrive(self) -> None:
        self.arrived += 1


def test_a_worker_tells_once_a_course_is_there() -> None:
    posted, its = Posted(), ground()
    assert posted.courses.course(its, DAYS) is None
    posted.courses.settle()
    assert posted.arrived == 1
    course = posted.courses.course(its, DAYS)
    assert course is not None
    assert course.ground is its
    posted.courses.close()


def test_a_course_of_ground_that_is_another_by_now_is_never_given() -> None:
    posted, old, new = Posted(), ground(10), ground(40)
    assert posted.courses.course(old, DAYS) is None
    assert posted.courses.course(new, DAYS) is None
    posted.courses.settle()
    course = posted.courses.course(new, DAYS)
    assert course is not None
    assert course.ground is new
    assert posted.arrived == 1
    other: tuple[date, ...] = DAYS[:5]
    assert posted.courses.course(new, other) is None
    posted.courses.close()
