from __future__ import annotations

from datetime import date

import pytest

from pigmap.builtin.tools.before_typed import BeforeTyped, When, before_of, last_season
from pigmap.document.edits import Before
from pigmap.errors import EditError
from pigmap.records import GroundJobKind
from pigmap.records.season import Season, about_season, about_year

TODAY = date(2026, 11, 25)
USED = GroundJobKind.USED_BEFORE


def before(when: When, typed: str, score: int | None = None, *, south: bool = False) -> Before:
    return before_of(BeforeTyped(USED, when, typed, score), TODAY, south=south)


def test_a_season_and_a_year_are_its_middle_day() -> None:
    found = before(Season.AUTUMN, " 2024 ", 3)
    assert (found.happened_on, found.within_days) == about_season(Season.AUTUMN, 2024)
    assert found.rooting_score == 3
    south = before(Season.AUTUMN, "2024", south=True)
    assert south.happened_on == about_season(Season.AUTUMN, 2024, south=True).day


def test_a_year_and_a_day() -> None:
    found = before("year", "2023")
    assert (found.happened_on, found.within_days) == about_year(2023)
    day = before("day", "2024-10-03")
    assert (day.happened_on, day.within_days) == (date(2024, 10, 3), None)


def test_never_and_not_known_ask_for_nothing() -> None:
    for kind in (GroundJobKind.NEVER_USED, GroundJobKind.UNKNOWN):
        assert before_of(BeforeTyped(kind, typed="whenever"), TODAY) == Before(kind=kind)


def test_a_season_that_goes_on_is_the_middle_of_what_has_passed() -> None:
    early = date(2026, 9, 21)
    found = before_of(BeforeTyped(USED, Season.AUTUMN, "2026"), early)
    assert found.happened_on == date(2026, 9, 11)
    assert found.within_days == 10


@pytest.mark.parametrize(
    ("when", "typed", "said"),
    [
        (Season.SPRING, "2027", "Spring 2027 is still to come."),
        (Season.WINTER, "2026", "Winter 2026 is still to come."),
        ("year", "2027", "2027 is still to come."),
        ("day", "2026-11-26", "2026-11-26 is still to come."),
    ],
)
def test_what_is_still_to_come_is_refused(when: When, typed: str, said: str) -> None:
    with pytest.raises(EditError) as error:
        before(when, typed)
    assert str(error.value.message) == said
    assert str(error.value.remedy) == "Tell of what has been; what is to come is planned."


@pytest.mark.parametrize(
    ("typed", "named"),
    [("24", "24"), ("1492", "1492"), ("", "An empty line"), ("autumn", "autumn"), ("9999", "9999"), ("20 24", "20 24")],
)
def test_what_is_no_year_is_refused(typed: str, named: str) -> None:
    with pytest.raises(EditError) as error:
        before(Season.AUTUMN, typed)
    assert str(error.value.message) == f"{named} is not a year that pigs could have been there."
    assert str(error.value.remedy) == "Give a year of four figures from 1950 to 2026."


@pytest.mark.parametrize(
    ("typed", "named"), [("2024", "2024"), ("2023-02-30", "2023-02-30"), ("", "An empty line"), ("3 May", "3 May")]
)
def test_what_is_no_day_is_refused(typed: str, named: str) -> None:
    with pytest.raises(EditError) as error:
        before("day", typed)
    assert str(error.value.message) == f"{named} is not a day of the calendar."
    assert str(error.value.remedy) == (
        "Give year, month and day, such as 2024-10-16; or choose a season and give a year."
    )


@pytest.mark.parametrize(
    ("today", "south", "expected"),
    [
        (date(2026, 11, 25), False, (Season.SUMMER, 2026)),
        (date(2026, 12, 1), False, (Season.AUTUMN, 2026)),
        (date(2026, 1, 5), False, (Season.AUTUMN, 2025)),
        (date(2026, 3, 2), False, (Season.WINTER, 2025)),
        (date(2026, 11, 25), True, (Season.WINTER, 2026)),
    ],
)
def test_the_season_that_is_offered_is_the_last_that_ended(
    today: date, south: bool, expected: tuple[Season, int]
) -> None:
    assert last_season(today, south=south) == expected
