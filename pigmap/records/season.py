"""Seasons and years as people tell them, 'about autumn 2024', and the day that stands for each."""

from __future__ import annotations

from datetime import date, timedelta
from enum import StrEnum
from typing import NamedTuple

_MONTHS = 12
_FIRST_MONTH = {"spring": 3, "summer": 6, "autumn": 9, "winter": 12}


class Season(StrEnum):
    """A quarter of a year, as three whole months: spring begins with March, south of the equator with September."""

    SPRING = "spring"
    SUMMER = "summer"
    AUTUMN = "autumn"
    WINTER = "winter"

    @property
    def opposite(self) -> Season:
        """The season on the other side of the equator."""
        order = list(Season)
        return order[(order.index(self) + 2) % len(order)]


class About(NamedTuple):
    """A day that is only about right."""

    day: date
    within_days: int
    """How far off it may be, to either side [d]."""


def about_season(season: Season, year: int, *, south: bool = False) -> About:
    """Return the middle day of a season, and how far its ends are from it.

    The season belongs to the year in which it begins: winter 2024 goes on into 2025 north of the equator, summer 2024
    south of it.

    Examples
    --------
    >>> about_season(Season.AUTUMN, 2024)
    About(day=datetime.date(2024, 10, 16), within_days=45)
    >>> about_season(Season.AUTUMN, 2024, south=True).day
    datetime.date(2024, 4, 16)
    """
    return _middle(*_ends(season, year, south=south))


def about_so_far(about: About, today: date) -> About:
    """Return what has passed of a season or a year that goes on, as its own middle day; the whole where it is over."""
    if about.day <= today:
        return about
    first = about.day - timedelta(days=about.within_days)
    half = (today - first).days // 2
    return About(first + timedelta(days=half), max(half, 1))


def _ends(season: Season, year: int, *, south: bool) -> tuple[date, date]:
    """Return the first day of a season, and the first day after it."""
    month = _FIRST_MONTH[season.opposite if south else season]
    return date(year, month, 1), date(year + (month + 3 > _MONTHS), (month + 2) % _MONTHS + 1, 1)


def about_year(year: int) -> About:
    """Return the middle day of a year, and how far its ends are from it."""
    return _middle(date(year, 1, 1), date(year + 1, 1, 1))


def _middle(first: date, after: date) -> About:
    last = after - timedelta(days=1)
    within = ((last - first).days + 1) // 2  # of two middle days the later: the first day is exactly so far off
    return About(first + timedelta(days=within), within)


class Told(NamedTuple):
    """A day in the words it was told in."""

    season: Season | None
    year: int


def told_as(day: date, within_days: int | None, *, south: bool = False) -> Told | None:
    """Return the season, or the year, that a day stands for; None for a day of its own.

    What stands for the first part of a season that went on when it was told is told as the season.

    Examples
    --------
    >>> told_as(date(2024, 10, 16), 45)
    Told(season=<Season.AUTUMN: 'autumn'>, year=2024)
    """
    if not within_days:
        return None
    for year in (day.year, day.year - 1):
        for season in Season:
            if _stands_for(About(day, within_days), *_ends(season, year, south=south)):
                return Told(season, year)
    whole = date(day.year, 1, 1), date(day.year + 1, 1, 1)
    return Told(None, day.year) if _stands_for(About(day, within_days), *whole) else None


def _stands_for(about: About, first: date, after: date) -> bool:
    whole = _middle(first, after)
    begun = about.day - timedelta(days=about.within_days) in (first, first - timedelta(days=1))
    return about == whole or (begun and about.day < whole.day)
