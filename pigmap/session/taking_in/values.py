"""Values of a table as a farm keeps them; what does not read is refused in words that name it."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from datetime import date, datetime
from typing import Any

from pigmap.errors import RecordError

_DATES = ("%Y-%m-%d", "%Y/%m/%d", "%Y%m%d", "%d.%m.%Y", "%d.%m.%y", "%d-%m-%Y")
_SLASHED = ("%d/%m/%Y", "%m/%d/%Y")
_TIME = re.compile(r"[T ]\d{1,2}:\d{2}.*$")
_NUMBER = re.compile(r"([-+]?\d+(?:[.,]\d+)?)\s*(?:kv|pigs?|lights?|m|%)?", re.IGNORECASE)
_YES = ("yes", "y", "true", "t", "1", "1.0", "x", "ok", "ja", "oui")
_NO = ("no", "n", "false", "f", "0", "0.0", "nein", "non")
_NOTHING = ("", "nan", "nat", "none", "null", "na", "n/a", "-")
LONGEST_TOLD = 60
"""Letters of a value that are repeated in a sentence."""


def words(value: Any) -> str:
    """Return a value as words; whole numbers without a point, what is not there as nothing."""
    if value is None or (isinstance(value, float) and math.isnan(value)):
        return ""
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value).strip()


def told(value: Any) -> str:
    """Return a value as a sentence repeats it: on one line, not too long."""
    said = " ".join(words(value).split())
    return said if len(said) <= LONGEST_TOLD else f"{said[: LONGEST_TOLD - 1]}…"


def nothing(value: Any) -> bool:
    """Whether a value says nothing."""
    return words(value).casefold() in _NOTHING


def number(value: Any, what: str) -> float | None:
    """Return a number, also one with a decimal comma or its unit behind it.

    Raises
    ------
    RecordError
        If it is none.

    Examples
    --------
    >>> number("5,6 kV", "the voltage"), number("-", "the voltage")
    (5.6, None)
    """
    if nothing(value):
        return None
    found = _NUMBER.fullmatch(words(value))
    if found is None:
        raise RecordError("{what}, '{told}', is no number.", remedy="Give a number.", what=what, told=told(value))
    return float(found[1].replace(",", "."))


def whole(value: Any, what: str) -> int | None:
    """Return a whole number; as `number`."""
    found = number(value, what)
    if found is None:
        return None
    if not found.is_integer():
        raise RecordError(
            "{what}, '{told}', is no whole number.", remedy="Give a whole number.", what=what, told=told(value)
        )
    return int(found)


def truth(value: Any, what: str) -> bool | None:
    """Return yes or no.

    Raises
    ------
    RecordError
        If it is neither.
    """
    said = words(value).casefold()
    if said in _NOTHING:
        return None
    if said in _YES or said in _NO:
        return said in _YES
    raise RecordError("{what}, '{told}', is neither yes nor no.", remedy="Give yes or no.", what=what, told=told(value))


class Days:
    """Reads days as one file writes them: year first, with points, or with slashes where one tells which is which."""

    def __init__(self, file: str, values: Sequence[Any]) -> None:
        self._slashed = _slashed(file, [_day_words(value) for value in values])

    def day(self, value: Any, what: str) -> date | None:
        """Return a day; None where nothing is said.

        Raises
        ------
        RecordError
            If it is none.
        """
        if nothing(value):
            return None
        said = _day_words(value)
        for how in (*_DATES, self._slashed):
            try:
                return datetime.strptime(said, how).date()
            except ValueError:
                continue
        raise RecordError(
            "{what}, '{told}', is not a day.",
            remedy="Give it as YYYY-MM-DD, such as 2026-03-01.",
            what=what,
            told=told(value),
        )


def _day_words(value: Any) -> str:
    return _TIME.sub("", words(value))


def _slashed(file: str, days: Sequence[str]) -> str:
    """Return how days with slashes are written: a number above 12 tells day and month apart."""
    found = [day for day in days if day.count("/") == 2 and not day[:4].isdecimal()]
    read = [sum(_reads(day, how) for day in found) for how in _SLASHED]
    alike = all(len({part.lstrip("0") for part in day.split("/")[:2]}) == 1 for day in found)
    if found and read[0] == read[1] and not alike:
        raise RecordError(
            "The days of {file}, such as {first}, do not say which number is the day and which the month.",
            remedy="Write them as YYYY-MM-DD.",
            file=file,
            first=told(found[0]),
        )
    return _SLASHED[read.index(max(read))]


def _reads(said: str, how: str) -> bool:
    try:
        datetime.strptime(said, how)
    except ValueError:
        return False
    return True
