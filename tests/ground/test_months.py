from __future__ import annotations

from datetime import date, timedelta

import pytest
import shapely

from pigmap.geometry.kept_out import in_force
from pigmap.ground import FieldGround, prepare
from pigmap.records import KeepOut, Purpose, Reason, Record, Use
from tests.ground.invented import farm, field, herd, on, square, stay


def flood(first: str | None = "05-15", last: str | None = "07-31", ground: shapely.Polygon | None = None) -> KeepOut:
    return KeepOut(
        uid=f"flood {first}",
        reason=Reason.FLOOD,
        shape=square(0, 0, 20) if ground is None else ground,
        from_month_day=first,
        to_month_day=last,
    )


def part(use: Use, first: str, last: str, rest: int | None = None) -> Purpose:
    return Purpose(
        uid=f"{use} {first}",
        field_uid="f",
        from_month_day=first,
        to_month_day=last,
        purpose=use,
        rest_days_wanted=rest,
    )


def ground(*rows: Record) -> FieldGround:
    return prepare(farm(*herd(), field(), *rows), "f")


def ready_on(found: FieldGround, day: date, row: int = 3, column: int = 3) -> date:
    ahead = int(found.on(day).cells("ready_in_days")[row, column])
    assert ahead >= 0
    return day + timedelta(days=ahead)


def test_ground_in_flood_months_is_ready_when_they_are_over() -> None:
    found = ground(stay("s", 0, 1, square(0, 0)), flood())
    assert ready_on(found, on(1)) == on(31)  # 2 May: before the flood
    assert ready_on(found, date(2026, 5, 14)) == date(2026, 5, 14)
    assert ready_on(found, date(2026, 5, 15)) == date(2026, 8, 1)
    assert ready_on(found, date(2026, 7, 31)) == date(2026, 8, 1)
    assert ready_on(found, date(2026, 8, 1)) == date(2026, 8, 1)
    assert ready_on(found, date(2026, 5, 15), 20, 20) == date(2026, 5, 15)


def test_rest_that_ends_in_flood_months_is_pushed_on_beyond_them() -> None:
    found = ground(stay("s", 20, 25, square(0, 0)), flood())
    assert ready_on(found, on(25)) == date(2026, 8, 1)
    assert ready_on(found, on(25), 20, 20) == on(55)


def test_months_over_new_year_and_months_without_a_break() -> None:
    found = ground(flood("11-01", "03-31"), flood("04-01", "05-31", square(0, 0, 10)))
    assert ready_on(found, date(2026, 12, 24), 8, 8) == date(2027, 4, 1)
    assert ready_on(found, date(2026, 12, 24), 1, 1) == date(2027, 6, 1)
    assert ready_on(found, date(2026, 12, 24), 40, 40) == date(2026, 12, 24)


def test_a_keep_out_of_the_whole_year_has_no_months() -> None:
    found = ground(flood(None, None))
    assert found.open_days is None
    assert found.regions == 1


def test_a_field_is_ready_when_its_purpose_opens_it_again() -> None:
    found = ground(part(Use.CLOSED, "05-01", "06-30"), stay("s", 0, 5))
    assert ready_on(found, on(5)) == date(2026, 7, 1)
    assert ready_on(found, date(2026, 6, 1), 40, 40) == date(2026, 7, 1)


def test_ground_that_is_closed_all_year_is_not_within_sight() -> None:
    found = ground(part(Use.CLOSED, "01-01", "12-31"))
    assert found.on(on(5)).cells("ready_in_days")[3, 3] == -1


def test_rest_and_months_push_each_other_on() -> None:
    # Open from 1 July, when 120 days are wanted; from 20 July on 60 are enough.
    rows = (
        part(Use.CLOSED, "04-01", "06-30"),
        part(Use.GRAZE_LIGHTLY, "07-01", "07-19", 120),
        part(Use.WINTER_GROUND, "07-20", "12-31", 60),
    )
    assert ready_on(ground(*rows, stay("s", 25, 30)), on(30)) == date(2026, 7, 20)


@pytest.mark.parametrize(("first", "last"), [("02-20", "03-01"), ("02-28", "02-29"), ("12-31", "01-01")])
def test_every_day_of_years_with_and_without_a_leap_day_is_open_as_the_keep_out_says(first: str, last: str) -> None:
    row = flood(first, last)
    found = ground(row)
    assert found.open_days is not None
    for day in (date(2027, 1, 1) + timedelta(days=number) for number in range(0, 800)):
        expected = day
        while in_force(row, expected):
            expected += timedelta(days=1)
        if day.month in (2, 3, 12, 1):
            assert ready_on(found, day) == expected
