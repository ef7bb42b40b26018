from __future__ import annotations

from datetime import date

import numpy as np
import pytest
import shapely

from pigmap.ground import FieldGround, Known, prepare
from pigmap.records import GroundJob, GroundJobKind, Record
from tests.ground.invented import check, farm, field, on, paddock, square, stay

USED, NEVER, UNKNOWN = GroundJobKind.USED_BEFORE, GroundJobKind.NEVER_USED, GroundJobKind.UNKNOWN
ALL = square(0, 0, 100)
BESIDE = square(50, 0)


def told(
    kind: GroundJobKind,
    ground: shapely.Polygon = ALL,
    *,
    position: int = 0,
    day: int | None = None,
    score: int | None = None,
    uid: str = "",
) -> GroundJob:
    return GroundJob(
        uid=uid or f"job {position}",
        kind=kind,
        shape=shapely.MultiPolygon([ground]),
        position=position,
        happened_on=None if day is None else on(day),
        rooting_score=score,
    )


def ground(*rows: Record) -> FieldGround:
    return prepare(farm(field(), *rows), "f")


def at(found: FieldGround, day: int, name: str, row: int = 1, column: int = 1) -> object:
    return found.on(on(day)).cells(name)[row, column].item()


def test_ground_with_no_record_at_all_is_unknown_until_pigs_come() -> None:
    found = ground(stay("s", 0, 5))
    assert [at(found, day, "unknown") for day in (-1, 0, 50)] == [True, False, False]
    assert at(found, 50, "unknown", 40, 40)


def test_never_used_is_only_what_someone_said() -> None:
    found = ground(stay("s", 0, 5), told(NEVER, BESIDE))
    state = found.on(on(50))
    assert state.by_field is not None
    assert state.by_field.never_used == pytest.approx(0.25)
    assert state.by_field.unknown == pytest.approx(0.5)
    assert at(found, 50, "rest_days", 1, 40) == -1
    assert not at(found, 50, "unknown", 1, 40)


def test_a_told_use_gives_its_ground_a_last_day_and_the_rooting_it_was_left_with() -> None:
    found = ground(told(USED, square(0, 0), day=-200, score=3))
    assert [at(found, day, "rest_days") for day in (-201, -200, -190, 0)] == [-1, 0, 10, 200]
    assert [at(found, day, "used") for day in (-201, -200)] == [False, True]
    assert at(found, -200, "cover") == pytest.approx(0.25)
    assert 0.25 < float(str(at(found, -190, "cover"))) < 0.5
    assert at(found, 0, "unknown", 40, 40)
    assert found.first_day == on(-200)


def test_a_use_that_nobody_said_how_hard_leaves_the_cover_as_it_is() -> None:
    assert at(ground(told(USED, day=-20)), 0, "cover") == pytest.approx(0.95)


def test_what_is_told_was_seen_by_nobody() -> None:
    found = ground(told(USED, day=-5, score=2), paddock(), check("c", 3, 2))
    assert not at(found, 0, "seen")
    assert at(found, 4, "seen")


def test_a_real_stay_after_it_wins_by_its_date_and_one_before_it_does_not() -> None:
    found = ground(told(USED, day=0, score=4), stay("after", 20, 25), stay("before", -30, -25, BESIDE))
    assert at(found, 30, "rest_days") == 5
    assert at(found, 30, "rest_days", 1, 40) == 30


def test_pigs_that_are_there_on_the_told_day_are_not_gone() -> None:
    found = ground(told(USED, day=2, score=1), stay("s", 0, 5))
    assert [at(found, day, "rest_days") for day in (2, 3, 5, 6)] == [0, 0, 0, 1]
    assert [at(found, day, "occupied") for day in (2, 4, 5)] == [True, True, False]


@pytest.mark.parametrize("turned", [False, True])
def test_what_was_told_later_lies_over_what_was_told_earlier(turned: bool) -> None:
    jobs = [told(USED, day=-100, score=3, position=1), told(NEVER, square(0, 0), position=2)]
    found = ground(*(reversed(jobs) if turned else jobs))
    assert at(found, 0, "rest_days") == -1
    assert not at(found, 0, "unknown")
    assert at(found, 0, "rest_days", 1, 40) == 100
    again = ground(*jobs, told(UNKNOWN, square(0, 0, 20), position=3))
    assert at(again, 0, "unknown")
    assert not at(again, 0, "unknown", 20, 20)


def test_of_two_uses_told_of_one_piece_the_one_told_later_counts_whenever_it_was() -> None:
    found = ground(told(USED, day=-100, position=1), told(USED, square(0, 0), day=-300, position=2))
    assert (at(found, 0, "rest_days"), at(found, 0, "rest_days", 1, 40)) == (300, 100)


def test_a_use_without_a_day_leaves_the_ground_unknown() -> None:
    assert at(ground(told(USED, score=3)), 0, "unknown")


WORK = [each for each in GroundJobKind if not each.tells_what_was and each is not GroundJobKind.OTHER_STOCK]


@pytest.mark.parametrize("kind", WORK)
def test_work_on_the_ground_says_nothing_of_what_was_before(kind: GroundJobKind) -> None:
    found = ground(told(kind, day=-10))
    assert at(found, 0, "unknown")
    assert found.first_day is None


def test_cells_of_one_history_but_for_what_was_said_are_two_regions() -> None:
    found = ground(told(NEVER, square(0, 0)))
    assert found.regions == 2
    assert sorted(found.never.tolist()) == [False, True]
    assert np.unique(found.region_of[:25, :25]).size == 1


def test_an_old_use_is_reckoned_from_its_day_on_whatever_is_recorded() -> None:
    long_ago = GroundJob(
        uid="old", kind=USED, shape=shapely.MultiPolygon([ALL]), happened_on=date(2011, 10, 16), rooting_score=4
    )
    found = ground(long_ago)
    assert found.first_day == date(2011, 10, 16)
    assert at(found, 0, "rest_days") == (on(0) - date(2011, 10, 16)).days
    assert at(found, 0, "cover") == pytest.approx(0.95, abs=1e-3)


def test_a_cursor_that_steps_through_the_told_day_says_what_a_fresh_look_says() -> None:
    found = ground(told(USED, square(10, 10, 60), day=-3, score=2), stay("s", 0, 5), told(NEVER, BESIDE, position=1))
    cursor = found.cursor()
    for day in (*range(-6, 9), *range(8, -7, -1)):
        moved, fresh = cursor.move_to(on(day)), found.on(on(day))
        for name in ("rest_days", "used", "unknown", "cover", "seen", "occupied"):
            assert np.allclose(moved.layers[name], fresh.layers[name], atol=1e-6), (day, name)


def test_what_is_told_anew_counts_in_a_ground_that_is_prepared_again() -> None:
    known = Known()
    before = farm(field(), stay("s", 0, 5))
    assert prepare(before, "f", known=known).regions == 2
    after = farm(field(), stay("s", 0, 5), told(NEVER))
    assert not at(prepare(after, "f", known=known), 9, "unknown", 40, 40)
