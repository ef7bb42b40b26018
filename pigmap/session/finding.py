"""Find things of a farm by what they are called, and days by how they are written."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from datetime import date
from itertools import groupby
from typing import NamedTuple

from pigmap.records import Farm, Group
from pigmap.records.lasting import Lasting, lasting_on
from pigmap.text import Text

MOST = 100
"""Things that are listed at once; more are not read by anyone."""
LEAST_OF_WORD = 4
"""Letters of a word that is looked for besides names: fewer are the beginning of too many names. Own choice."""
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_DAY = re.compile(r"(\d{1,2})\.?\s+([a-z]{3})[a-z]*\.?(?:,?\s+(\d{4}))?")
_MONTH_FIRST = re.compile(r"([a-z]{3})[a-z]*\.?\s+(\d{1,2})(?:,?\s+(\d{4}))?")
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")


class Found(NamedTuple):
    """One thing that was found; a day has no table."""

    table: str
    uid: str
    name: str
    beside: Text
    """What it is, and how it is with it today."""
    day: date | None = None
    plate: str = ""
    """Name of the plate that is meant, where no thing of the farm is."""


PLATES: tuple[tuple[str, str, Text, tuple[str, ...]], ...] = (
    (
        "books",
        "Books",
        Text("medicine, register, litters, slaughter, escapes; cards for when pigs are out"),
        (
            "books",
            "medicine",
            "medicine book",
            "withdrawal",
            "register",
            "litters",
            "farrowing",
            "slaughter",
            "bookings",
            "escapes",
            "escape card",
            "pigs are out",
            "whom to ring",
        ),
    ),
    (
        "weather",
        "Rain and hot days",
        Text("rain in the gauge, hot days, weather from a file"),
        ("rain", "rain gauge", "gauge", "weather", "hot weather", "hot days", "hot tomorrow", "rain and hot days"),
    ),
    (
        "terrain",
        "Terrain image",
        Text("heights, from which slope is worked out"),
        ("terrain", "terrain image", "slope", "heights", "steep"),
    ),
    (
        "data",
        "Data in and out",
        Text("files for a phone or another program, and files that are taken in"),
        (
            "export",
            "import",
            "data",
            "data in and out",
            "hand out",
            "take in",
            "phone",
            "gpx",
            "kml",
            "csv",
            "shapefile",
        ),
    ),
)
"""Plates that are found by what they are for: name, title, what they are for, and words for it."""


def find(farm: Farm, words: str, today: date) -> tuple[Found, ...]:
    """Return what is meant, the best first: what is called so, names that begin so, then those with a word that does.

    Accents and capitals do not matter. A day is found as 14 Oct, October 14, 14 October 2026 or 2026-10-14; without a
    year it is the nearest one.
    """
    wanted = plain(words)
    if not wanted:
        return ()
    day = day_meant(wanted, today)
    ranked = sorted(
        ((_rank(plain(each.name), wanted), number, each) for number, each in enumerate(_things(farm, today))),
        key=lambda one: one[:2],
    )
    found = [each for rank, _, each in ranked if rank < _NOT_FOUND][:MOST]
    found += _weighed_groups(farm, wanted, today)
    found += _plates(wanted)
    if day is not None:
        found.insert(0, Found("", "", "", Text("today") if day == today else Text("a day"), day))
    return tuple(found)


_NOT_FOUND = 4
_WEIGHING = ("weight", "weigh", "weigh or count", "count", "how many pigs", "how heavy")


def _weighed_groups(farm: Farm, wanted: str, today: date) -> list[Found]:
    """Return the groups where a weight or a count is looked for: it is told on their cards."""
    if len(wanted) < LEAST_OF_WORD or not any(words.startswith(wanted) for words in _WEIGHING):
        return []
    there = [group for group in farm.groups.values() if group.closed_on is None or group.closed_on > today]
    return [Found("groups", group.uid, group.name, Text("weigh or count it on its card")) for group in there][:MOST]


def _plates(wanted: str) -> list[Found]:
    if len(wanted) < LEAST_OF_WORD:
        return []
    return [
        Found("", "", title, beside, plate=name)
        for name, title, beside, words in PLATES
        if any(each.startswith(wanted) for each in words)
    ]


def _rank(name: str, wanted: str) -> int:
    if name == wanted:
        return 0
    if name.startswith(wanted):
        return 1
    if f" {wanted}" in name:
        return 2
    return 3 if wanted in name else _NOT_FOUND


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
    iso, written, turned = _ISO.fullmatch(words), _DAY.fullmatch(words), _MONTH_FIRST.fullmatch(words)
    if iso is not None:
        return _day(int(iso[1]), int(iso[2]), int(iso[3]))
    if written is not None:
        number, name, year = written.groups()
    elif turned is not None:
        name, number, year = turned.groups()
    else:
        return None
    return _named_day(int(number), _MONTHS.index(name) + 1, year, today) if name in _MONTHS else None


def _named_day(number: int, month: int, year: str | None, today: date) -> date | None:
    if year is not None:
        return _day(int(year), month, number)
    near = [_day(today.year + by, month, number) for by in (-1, 0, 1)]
    return min((day for day in near if day is not None), key=lambda day: abs((day - today).days), default=None)


def _day(year: int, month: int, number: int) -> date | None:
    try:
        return date(year, month, number)
    except ValueError:
        return None


def _things(farm: Farm, today: date) -> Iterator[Found]:
    stays = sorted(lasting_on(farm, today).values(), key=lambda each: each.first)
    for group in farm.groups.values():
        yield Found("groups", group.uid, group.name, _of_group(farm, group, stays, today))
    for field in farm.fields.values():
        cover = Text(str(field.ground_cover))
        gone = field.retired_on is not None and field.retired_on <= today
        yield Found(
            "fields",
            field.uid,
            field.name,
            Text("field, out of use") if gone else Text("field, {what}", {"what": cover}),
        )
    on = {uid: list(each) for uid, each in groupby(sorted(stays, key=_paddock), key=_paddock)}
    for paddock in farm.paddocks.values():
        yield Found("paddocks", paddock.uid, paddock.name, _of_paddock(farm, on.get(paddock.uid, []), today))
    yield from _around(farm)


def _around(farm: Farm) -> Iterator[Found]:
    for keep_out in farm.keep_outs.values():
        reason = Text(str(keep_out.reason))
        name = keep_out.name or str(keep_out.reason)
        yield Found("keep_outs", keep_out.uid, name, Text("keep-out, {why}", {"why": reason}))
    for place in farm.places.values():
        yield Found("places", place.uid, place.name or str(place.kind), Text(str(place.kind)))
    for way in farm.ways.values():
        yield Found("ways", way.uid, way.name or str(way.kind), Text(str(way.kind)))


def _paddock(stay: Lasting) -> str:
    return stay.stay.paddock_uid


def _of_group(farm: Farm, group: Group, stays: Sequence[Lasting], today: date) -> Text:
    if group.closed_on is not None and group.closed_on <= today:
        return Text("group until {day}", {"day": group.closed_on})
    for each in stays:
        paddock = farm.paddocks.get(_paddock(each))
        if each.stay.group_uid == group.uid and each.covers(today) and paddock is not None:
            return Text("group, in {paddock}", {"paddock": paddock.name})
    return Text("group, in no paddock")


def _of_paddock(farm: Farm, stays: Sequence[Lasting], today: date) -> Text:
    """Return how it is with a paddock: who is there, or comes there next, or left it last."""
    for each in stays:
        group = farm.groups.get(each.stay.group_uid)
        if each.covers(today) and group is not None:
            return Text("paddock, {group} there", {"group": group.name})
    coming = [each.first for each in stays if each.first > today]
    if coming:
        return Text("paddock, planned {day}", {"day": min(coming)})
    left = [each.end for each in stays if each.end is not None]
    return Text("paddock, used to {day}", {"day": max(left)}) if left else Text("paddock, not used yet")
