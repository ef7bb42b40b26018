"""What was before as it is chosen and typed: the season or the year in figures, and what cannot be, in words."""

from __future__ import annotations

import re
from datetime import date, timedelta
from typing import Literal

from pigmap.document.edits import Before
from pigmap.errors import EditError
from pigmap.records import GroundJobKind
from pigmap.records.frozen import dataclass
from pigmap.records.season import About, Season, about_season, about_so_far, about_year
from pigmap.text import Text

When = Season | Literal["year", "day"]
_YEAR = re.compile(r"\d{4}")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
FIRST_YEAR = 1950
"""Nobody tells of pigs before it. Own choice."""


@dataclass(frozen=True, slots=True)
class BeforeTyped:
    """What is chosen and typed."""

    kind: GroundJobKind
    when: When = Season.AUTUMN
    typed: str = ""
    """A year, or a day where `when` is a day."""
    score: int | None = None


def last_season(today: date, *, south: bool = False) -> tuple[Season, int]:
    """Return the season that ended last before a day.

    Examples
    --------
    >>> last_season(date(2026, 11, 25))
    (<Season.SUMMER: 'summer'>, 2026)
    """
    ended = [
        (about, season, year)
        for year in (today.year - 1, today.year)
        for season in Season
        if (about := about_season(season, year, south=south)).day + timedelta(days=about.within_days) < today
    ]
    _, season, year = max(ended)
    return season, year


def before_of(given: BeforeTyped, today: date, *, south: bool = False) -> Before:
    """Return what was meant.

    Raises
    ------
    EditError
        If the year or the day is none, or still to come.
    """
    if given.kind is not GroundJobKind.USED_BEFORE:
        return Before(kind=given.kind)
    about = _about(given, today, south=south)
    within = about.within_days or None
    return Before(kind=given.kind, happened_on=about.day, within_days=within, rooting_score=given.score)


def _about(given: BeforeTyped, today: date, *, south: bool) -> About:
    words = given.typed.strip()
    if given.when == "day":
        return _not_ahead(About(_day(words), 0), Text("{day}", {"day": _day(words)}), today)
    if not _YEAR.fullmatch(words) or not FIRST_YEAR <= int(words) <= today.year + 1:
        raise EditError(
            "{typed} is not a year that pigs could have been there.",
            remedy="Give a year of four figures from {first} to {last}.",
            typed=words or Text("An empty line"),
            first=str(FIRST_YEAR),
            last=str(today.year),
        )
    if given.when == "year":
        return _not_ahead(about_year(int(words)), Text("{year}", {"year": words}), today)
    name = Text("{season} {year}", {"season": Text(given.when.value.capitalize()), "year": words})
    return _not_ahead(about_season(given.when, int(words), south=south), name, today)


def _not_ahead(about: About, name: Text, today: date) -> About:
    """Return a day that is not still to come: of a season that goes on, the middle of what has passed of it."""
    first = about.day - timedelta(days=about.within_days)
    if first > today:
        raise EditError(
            "{when} is still to come.", remedy="Tell of what has been; what is to come is planned.", when=name
        )
    return about_so_far(about, today)


def _day(words: str) -> date:
    try:
        if _DAY.fullmatch(words):
            return date.fromisoformat(words)
    except ValueError:
        pass
    raise no_day(words, "Give year, month and day, such as 2024-10-16; or choose a season and give a year.")


def no_day(words: str, remedy: str) -> EditError:
    """Return what is said of words that are no day."""
    return EditError("{typed} is not a day of the calendar.", remedy=remedy, typed=words or Text("An empty line"))
