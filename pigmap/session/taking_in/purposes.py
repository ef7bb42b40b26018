"""Rows of a file as purposes: what a field, told by its name, is for in a part of the year."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from pigmap.errors import PigmapError, RecordError
from pigmap.records import Farm, Field, Purpose, Record, Use
from pigmap.session.taking_in.rows import Row, Rows
from pigmap.session.taking_in.values import known, month_day, number, one_of, told, whole
from pigmap.text import Text

USES: Mapping[str, Use] = {
    "graze": Use.GRAZE_LIGHTLY,
    "grazing": Use.GRAZE_LIGHTLY,
    "light": Use.GRAZE_LIGHTLY,
    "turn": Use.TURN_OVER,
    "turning over": Use.TURN_OVER,
    "scrub": Use.CLEAR_SCRUB,
    "clear": Use.CLEAR_SCRUB,
    "winter": Use.WINTER_GROUND,
    "none": Use.CLOSED,
    "shut": Use.CLOSED,
}
"""Other words for what a field is for. Own choice."""
_LISTED = re.compile(r"\s*(\d\d-\d\d) to (\d\d-\d\d) (.+?)\s*")


class PurposeRows(Rows[Purpose]):
    """Parts of the year of fields."""

    record = Purpose

    def called(self, row: Row) -> str:
        """Return the field, and what it is for."""
        return " ".join(filter(None, (told(row.given.get(what)) for what in ("field", "purpose"))))

    def read(self, row: Row) -> dict[str, Any]:
        """Return what the columns tell."""
        found: dict[str, Any] = {
            "field_uid": self.named.field(row.given.get("field")).uid,
            "from_month_day": _day(row, "from", "the first day"),
            "to_month_day": _day(row, "to", "the last day"),
            "purpose": one_of(row.given.get("purpose"), Use, "the purpose", USES),
        }
        if "rest_days_wanted" in row.given:
            found["rest_days_wanted"] = whole(row.given["rest_days_wanted"], "the rest wanted in days")
        if "rooting_wanted" in row.given:
            found["rooting_wanted"] = number(row.given["rooting_wanted"], "the rooting wanted, 0 to 1")
        return found

    def make(self, row: Row, told: dict[str, Any]) -> Purpose:
        """Return a new purpose; where the field has another one in that part of the year, that is told."""
        made = Purpose(**told)
        others = [each for each in self.rows if _overlap(each, made) and not self.alike(each, made)]
        if others:
            words = "{field} is for '{purpose}' in a part of that time already; both stand."
            field = self.farm.fields[made.field_uid].name
            row.said.append(Text(words, {"field": field, "purpose": Text(str(others[0].purpose))}))
        return made

    def alike(self, one: Purpose, other: Purpose) -> bool:
        """Whether two purposes say one thing of one part of the year of one field."""
        return _what(one) == _what(other)

    def known(self, row: Row, told: Mapping[str, Any]) -> Record | None:
        """Return the purpose of the uid, else the one that says the same of the same part of the year."""
        what = tuple(told[each] for each in ("field_uid", "from_month_day", "to_month_day", "purpose"))
        there = (each for each in self.farm.purposes.values() if _what(each) == what)
        return super().known(row, told) or next(there, None)


def _what(row: Purpose) -> tuple[object, ...]:
    return row.field_uid, row.from_month_day, row.to_month_day, row.purpose


def _day(row: Row, what: str, name: str) -> str:
    found = month_day(row.given.get(what), name)
    if found is None:
        raise RecordError("{what} is not told.", remedy="Give month and day as MM-DD, such as 03-15.", what=name)
    return found


def _overlap(one: Purpose, other: Purpose) -> bool:
    if one.field_uid != other.field_uid:
        return False
    return bool(_days_of_year(one) & _days_of_year(other))


def _days_of_year(row: Purpose) -> set[str]:
    every = [f"{month:02}-{day:02}" for month in range(1, 13) for day in range(1, 32)]
    first, last = row.from_month_day, row.to_month_day
    if first <= last:
        return {day for day in every if first <= day <= last}
    return {day for day in every if day >= first or day <= last}


def purposes_listed(words: str, field: Field, farm: Farm, said: list[Text]) -> Sequence[Purpose]:
    """Return the purposes that a list in one cell tells of a field and that it has not yet.

    The list is as fields are handed out: ``03-01 to 09-30 graze lightly; 10-01 to 02-28 closed``.
    """
    there = {_what(row) for row in farm.purposes.values() if row.field_uid == field.uid}
    found = []
    for part in filter(None, (part.strip() for part in words.split(";"))):
        match = _LISTED.fullmatch(part)
        use = known(match[3], Use, USES) if match is not None else None
        try:
            if match is None or use is None:
                raise RecordError("'{told}' is no purpose.", remedy="", told=told(part))
            row = Purpose(field_uid=field.uid, from_month_day=match[1], to_month_day=match[2], purpose=use)
        except PigmapError as why:
            said.append(Text("{why} The rest of the row is taken.", {"why": why.message}))
            continue
        if _what(row) not in there:
            there.add(_what(row))
            found.append(row)
    return found
