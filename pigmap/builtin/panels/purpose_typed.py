"""A part of a field's year as it is typed: days of any year, days of rest, a share that may be rooted."""

from __future__ import annotations

import re
from datetime import date

from pigmap.builtin.panels.typed_numbers import number, whole_number
from pigmap.drawing.words import month_words
from pigmap.errors import EditError
from pigmap.text import Text

_FIGURES = re.compile(r"(\d{1,2})-(\d{1,2})")
_DAY_FIRST = re.compile(r"(\d{1,2})\.?\s*([^\W\d_]+)\.?")
_MONTH_FIRST = re.compile(r"([^\W\d_]+)\.?\s*(\d{1,2})")
_LEAST_LETTERS = 3
MOST_DAYS = 3650


def typed_month_day(words: str, language: str = "en") -> str:
    """Return the day of any year that was typed, as MM-DD.

    Raises
    ------
    EditError
        If it is none.

    Examples
    --------
    >>> [typed_month_day(words) for words in ("16 March", "mar 16", "1. Dec", "03-16")]
    ['03-16', '03-16', '12-01', '03-16']
    """
    typed = words.strip()
    if found := _FIGURES.fullmatch(typed):
        month, day = int(found[1]), int(found[2])
    elif found := _DAY_FIRST.fullmatch(typed):
        month, day = _month(found[2], language), int(found[1])
    elif found := _MONTH_FIRST.fullmatch(typed):
        month, day = _month(found[1], language), int(found[2])
    else:
        month, day = 0, 0
    try:
        return f"{date(2024, month, day):%m-%d}"  # a leap year has all days
    except ValueError as error:
        raise EditError(
            "{typed} is not a day of the year.",
            remedy="Give day and month, such as 16 March or 03-16.",
            typed=typed or Text("An empty line"),
        ) from error


def _month(words: str, language: str) -> int:
    """Return the number of a month by the begin of its name; 0 for none."""
    begun = words.casefold()
    if len(begun) < _LEAST_LETTERS:
        return 0
    found = (each for each in range(1, 13) if month_words(each, language=language).casefold().startswith(begun))
    return next(found, 0)


def typed_rest(words: str) -> int | None:
    """Return the days of rest that were typed; None where the usual ones are meant.

    Raises
    ------
    EditError
        If it is no number of days.
    """
    if not words.strip():
        return None
    return whole_number(Text("The rest wanted in days"), words, 0, MOST_DAYS, 85)


def typed_rooting(words: str) -> float | None:
    """Return the share that may be rooted, typed as a percentage; None where the usual one is meant.

    Raises
    ------
    EditError
        If it is no percentage.
    """
    typed = words.strip().removesuffix("%").strip()
    if not typed:
        return None
    share = number(Text("The rooting that is welcome"), typed, "25") / 100
    if not 0.0 <= share <= 1.0:
        raise EditError(
            "{typed} of the ground cannot be rooted.",
            remedy="Give a percentage from 0 to 100, such as 25.",
            typed=Text("{share} %", {"share": typed}),
        )
    return share
