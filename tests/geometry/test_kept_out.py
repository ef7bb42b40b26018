from __future__ import annotations

from datetime import date

import pytest
import shapely

from pigmap.geometry.kept_out import in_force, in_force_during, kept_out
from pigmap.records import KeepOut, Reason


def test_a_line_is_as_wide_as_its_radius_and_its_distance() -> None:
    brook = KeepOut(reason=Reason.WATERCOURSE, shape=shapely.LineString([(0, 0), (100, 0)]), radius_m=2.0)
    assert kept_out(brook).bounds == pytest.approx((-2, -2, 102, 2))
    assert kept_out(brook, 3.0, 0.5).bounds == pytest.approx((-10, -10, 110, 10))


def test_an_area_is_itself_and_a_bare_point_nothing() -> None:
    pond = KeepOut(reason=Reason.POND, shape=shapely.box(0, 0, 9, 9))
    assert kept_out(pond) == pond.shape
    assert kept_out(KeepOut(reason=Reason.WELL, shape=shapely.Point(0, 0))).is_empty


@pytest.mark.parametrize(
    ("first", "last", "day", "counts"),
    [
        (None, None, date(2026, 7, 1), True),
        ("11-01", "03-31", date(2026, 1, 1), True),
        ("11-01", "03-31", date(2026, 3, 31), True),
        ("11-01", "03-31", date(2026, 7, 1), False),
        ("04-01", "06-30", date(2026, 4, 1), True),
        ("04-01", "06-30", date(2026, 7, 1), False),
    ],
)
def test_it_counts_in_its_part_of_the_year(first: str | None, last: str | None, day: date, counts: bool) -> None:
    row = KeepOut(reason=Reason.FLOOD, shape=shapely.box(0, 0, 9, 9), from_month_day=first, to_month_day=last)
    assert in_force(row, day) is counts


@pytest.mark.parametrize(
    ("first", "out_on", "counts"),
    [
        (date(2026, 10, 28), date(2026, 11, 1), False),
        (date(2026, 10, 28), date(2026, 11, 2), True),
        (date(2026, 10, 28), None, False),
        (date(2026, 3, 31), None, True),
        (date(2026, 4, 1), date(2028, 4, 1), True),
        (date(2026, 4, 1), date(2026, 4, 1), False),
    ],
)
def test_it_counts_for_a_stay_that_has_a_day_in_its_part_of_the_year(
    first: date, out_on: date | None, counts: bool
) -> None:
    row = KeepOut(reason=Reason.FLOOD, shape=shapely.box(0, 0, 9, 9), from_month_day="11-01", to_month_day="03-31")
    assert in_force_during(row, first, out_on) is counts
