"""Parts of a field's year that overlap or leave days out, and where a further part would fit."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from pigmap.records import Purpose, Use

_LEAP_YEAR = 2024
"""A year that has every day of the calendar."""
_DAYS = 366
WHOLE_YEAR = ("01-01", "12-31")
_LEAP_DAY = "02-29"


class Stretch(NamedTuple):
    """Days that follow each other; they may pass over New Year."""

    first: str
    """First day, MM-DD."""
    last: str
    uses: tuple[Use, ...]
    """What they are for: several where parts overlap, none where nothing is said."""


def unclear(parts: Sequence[Purpose]) -> list[Stretch]:
    """Return the stretches of the year with several purposes or with none; nothing where no part is there at all."""
    if not parts:
        return []
    found = [each for each in _stretches(parts) if len(each.uses) != 1]
    return [each for each in found if (each.first, each.last) != (_LEAP_DAY, _LEAP_DAY)]


def free_part(parts: Sequence[Purpose]) -> tuple[str, str]:
    """Return first and last day of the longest stretch of which nothing is said, else of the whole year."""
    gaps = [each for each in unclear(parts) if not each.uses]
    if not gaps:
        return WHOLE_YEAR
    longest = max(gaps, key=_length)
    return longest.first, longest.last


def _length(stretch: Stretch) -> int:
    first, last = (date.fromisoformat(f"{_LEAP_YEAR}-{day}") for day in stretch[:2])
    return (last - first).days % _DAYS


def _stretches(parts: Sequence[Purpose]) -> list[Stretch]:
    """Return the year as stretches of days with the same parts, the one over New Year as one."""
    first = date(_LEAP_YEAR, 1, 1)
    days = [first + timedelta(days=number) for number in range(_DAYS)]
    here = [tuple(each for each in parts if each.covers(day)) for day in days]
    begins = [number for number in range(_DAYS) if here[number] != here[number - 1]]
    if not begins:
        return [Stretch(*WHOLE_YEAR, _uses(here[0]))]
    ends = [*begins[1:], begins[0] + _DAYS]
    return [
        Stretch(f"{days[begin]:%m-%d}", f"{days[(end - 1) % _DAYS]:%m-%d}", _uses(here[begin]))
        for begin, end in zip(begins, ends, strict=True)
    ]


def _uses(parts: Sequence[Purpose]) -> tuple[Use, ...]:
    return tuple(each.purpose for each in parts)
