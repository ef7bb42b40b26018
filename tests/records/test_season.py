from __future__ import annotations

from datetime import date, timedelta

import pytest

from pigmap.records.season import Season, Told, about_season, about_so_far, about_year, told_as


@pytest.mark.parametrize(
    ("season", "year", "south", "first", "last"),
    [
        (Season.SPRING, 2024, False, date(2024, 3, 1), date(2024, 5, 31)),
        (Season.SUMMER, 2024, False, date(2024, 6, 1), date(2024, 8, 31)),
        (Season.AUTUMN, 2024, False, date(2024, 9, 1), date(2024, 11, 30)),
        (Season.WINTER, 2024, False, date(2024, 12, 1), date(2025, 2, 28)),
        (Season.WINTER, 2023, False, date(2023, 12, 1), date(2024, 2, 29)),
        (Season.AUTUMN, 2024, True, date(2024, 3, 1), date(2024, 5, 31)),
        (Season.SUMMER, 2024, True, date(2024, 12, 1), date(2025, 2, 28)),
    ],
)
def test_a_season_is_three_whole_months_and_its_day_the_middle_one(
    season: Season, year: int, south: bool, first: date, last: date
) -> None:
    about = about_season(season, year, south=south)
    assert abs((about.day - first).days - (last - about.day).days) <= 1
    assert about.within_days == max((about.day - first).days, (last - about.day).days)


@pytest.mark.parametrize("south", [False, True])
@pytest.mark.parametrize("season", list(Season))
@pytest.mark.parametrize("year", [2019, 2023, 2024])
def test_a_season_is_told_again_as_it_was_told(season: Season, year: int, south: bool) -> None:
    assert told_as(*about_season(season, year, south=south), south=south) == Told(season, year)


@pytest.mark.parametrize("season", list(Season))
@pytest.mark.parametrize("days", [1, 2, 10, 30, 44])
def test_a_season_that_goes_on_is_told_again_as_the_season(season: Season, days: int) -> None:
    whole = about_season(season, 2026)
    today = whole.day - timedelta(days=whole.within_days - days)
    so_far = about_so_far(whole, today)
    assert so_far.day <= today
    assert told_as(*so_far) == Told(season, 2026)


def test_a_season_that_is_over_is_the_whole_of_it() -> None:
    whole = about_season(Season.SPRING, 2026)
    assert about_so_far(whole, date(2026, 11, 25)) == whole


def test_a_year_is_told_again_as_a_year_and_a_day_as_none() -> None:
    assert told_as(*about_year(2024)) == Told(None, 2024)
    assert told_as(*about_year(2023)) == Told(None, 2023)
    assert told_as(date(2024, 10, 16), None) is None
    assert told_as(date(2024, 10, 16), 0) is None
    assert told_as(date(2024, 10, 3), 10) is None
