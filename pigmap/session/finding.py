"""Find things of a farm by what they are called, and days by how they are written."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from datetime import date
from typing import NamedTuple

from pigmap.records import Farm
from pigmap.text import Text

MOST = 12
"""Things that are listed at once."""
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_DAY = re.compile(r"(\d{1,2})\.?\s+([a-z]{3})[a-z]*\.?(?:\s+(\d{4}))?")
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")


class Found(NamedTuple):
    """One thing that was found; a day has no table."""

    table: str
    uid: str
    name: str
    kind: Text
    day: date | None = None


def find(farm: Farm, words: str, today: date) -> tuple[Found, ...]:
    """Return what is meant, the best first: names that begin with the words, then those with a word that does.

    Accents and capitals do not matter. A day is found as 14 Oct, 14 October 2026 or 2026-10-14; without a year it is
    the nearest one.
    """
    wanted = plain(words)
    if not wanted:
        return ()
    day = day_meant(wanted, today)
    ranked = sorted(
        ((_rank(plain(each.name), wanted), number, each) for number, each in enumerate(_things(farm))),
        key=lambda one: one[:2],
    )
    found = [each for rank, _, each in ranked if rank < _NOT_FOUND]
    if day is not None:
        found.insert(0, Found("", "", "", Text("a day"), day))
    return tuple(found[:MOST])


_NOT_FOUND = 3


def _rank(name: str, wanted: str) -> int:
    if name.startswith(wanted):
        return 0
    if f" {wanted}" in name:
        return 1
    return 2 if wanted in name else _NOT_FOUND


def plain(words: str) -> str:
    """Return words without accents and capitals, with single spaces.

    Examples
    --------
    >>> plain("  Große   Wiese, Été ")
    'grosse wiese, ete'
    """
    apart = unicodedata.normalize("NFKD", words.casefold())
    return " ".join("".join(letter for letter in apart if not unicodedata.combining(letter)).split())


def day_meant(words: str, today: date) -> date | None:
    """Return the day that is written, None where none is.

    Examples
    --------
    >>> day_meant("14 oct", date(2026, 11, 25)), day_meant("31 feb", date(2026, 11, 25))
    (datetime.date(2026, 10, 14), None)
    """
    iso, written = _ISO.fullmatch(words), _DAY.fullmatch(words)
    if iso is not None:
        return _day(int(iso[1]), int(iso[2]), int(iso[3]))
    if written is None or written[2] not in _MONTHS:
        return None
    month, number = _MONTHS.index(written[2]) + 1, int(written[1])
    if written[3]:
        return _day(int(written[3]), month, number)
    near = [_day(today.year + by, month, number) for by in (-1, 0, 1)]
    return min((day for day in near if day is not None), key=lambda day: abs((day - today).days), default=None)


def _day(year: int, month: int, number: int) -> date | None:
    try:
        return date(year, month, number)
    except ValueError:
        return None


def _things(farm: Farm) -> Iterator[Found]:
    for group in farm.groups.values():
        yield Found("groups", group.uid, group.name, Text("group"))
    for field in farm.fields.values():
        yield Found("fields", field.uid, field.name, Text("field"))
    for paddock in farm.paddocks.values():
        yield Found("paddocks", paddock.uid, paddock.name, Text("paddock"))
    for keep_out in farm.keep_outs.values():
        reason = Text(str(keep_out.reason))
        yield Found(
            "keep_outs", keep_out.uid, keep_out.name or str(keep_out.reason), Text("keep-out, {why}", {"why": reason})
        )
    for place in farm.places.values():
        yield Found("places", place.uid, place.name or str(place.kind), Text(str(place.kind)))
    for way in farm.ways.values():
        yield Found("ways", way.uid, way.name or str(way.kind), Text(str(way.kind)))
