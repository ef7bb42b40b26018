"""Values of a table as a farm keeps them; what does not read is refused in words that name it."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from enum import StrEnum
from typing import Any, TypeVar

from pigmap.errors import RecordError
from pigmap.session.handing_out.xml_words import as_xml_holds

_DATES = ("%Y-%m-%d", "%Y/%m/%d", "%Y%m%d", "%d.%m.%Y", "%d.%m.%y", "%d-%m-%Y")
_SLASHED = ("%d/%m/%Y", "%m/%d/%Y")
_TIME = re.compile(r"[T ]\d{1,2}:\d{2}.*$")
_NUMBER = re.compile(r"([-+]?\d+(?:[.,]\d+)?)\s*(?:kv|pigs?|lights?|mm|m|kg|days?|min|l|j|%)?", re.IGNORECASE)
_YES = ("yes", "y", "true", "t", "1", "1.0", "x", "ok", "ja", "oui")
_NO = ("no", "n", "false", "f", "0", "0.0", "nein", "non")
_NOTHING = ("", "nan", "nat", "none", "null", "na", "n/a", "-")
_MONTH_DAYS = ("%m-%d", "--%m-%d", "%d.%m.", "%d.%m", "%d %B", "%d %b", "%B %d", "%b %d")
E = TypeVar("E", bound=StrEnum)
LONGEST_TOLD = 60
"""Letters of a value that are repeated in a sentence."""


def words(value: Any) -> str:
    """Return a value as words; whole numbers without a point, what is not there as nothing."""
    if value is None or (isinstance(value, float) and math.isnan(value)):
        return ""
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value).strip()


def plainly(said: str) -> str:
    """Return words as every kind of file holds them: one space between them, no letters that some cannot write."""
    return " ".join(as_xml_holds(said).replace("\ufffd", " ").split())


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


def one_of(value: Any, kinds: type[E], what: str, usual: Mapping[str, E]) -> E:
    """Return one of a few values, by its own word or by another usual one.

    Raises
    ------
    RecordError
        If it is none of them.
    """
    found = known(value, kinds, usual)
    if found is None:
        raise RecordError(
            "{what}, '{told}', is not known here." if words(value) else "{what} is not told.",
            remedy="Give one of: {known}.",
            what=what,
            told=told(value),
            known=", ".join(kinds),
        )
    return found


def known(value: Any, kinds: type[E], usual: Mapping[str, E]) -> E | None:
    """Return one of a few values; None where there is no such."""
    said = " ".join(words(value).casefold().replace("_", " ").split())
    for each in (said, said.removesuffix("s"), said.removesuffix("es")):
        if each in set(kinds):
            return kinds(each)
        if each in usual:
            return usual[each]
    return None


def month_day(value: Any, what: str) -> str | None:
    """Return a day of any year as MM-DD.

    Raises
    ------
    RecordError
        If it is none.

    Examples
    --------
    >>> month_day("1 March", "the first day"), month_day("31.10.", "the last day"), month_day("", "the last day")
    ('03-01', '10-31', None)
    """
    if nothing(value):
        return None
    said = _day_words(value)
    for how in (*_MONTH_DAYS, *_DATES):
        whole = how in _DATES
        try:
            found = datetime.strptime(said if whole else f"2000 {said}", how if whole else f"%Y {how}")
        except ValueError:
            continue
        return f"{found:%m-%d}"
    raise RecordError(
        "{what}, '{told}', is no day of the year.",
        remedy="Give month and day as MM-DD, such as 03-15.",
        what=what,
        told=told(value),
    )


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
