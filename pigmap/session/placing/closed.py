"""On which days of a stay a field is closed or given up, and that in words."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from typing import NamedTuple

from pigmap.records import Field, Purpose, Use
from pigmap.text import Text, Value

_YEAR = 366
"""Days after which no other day of the year comes [d]."""


class Closed(NamedTuple):
    """A stretch of days on which pigs are not to be on a field."""

    first: date
    """First of them that is a day of the stay."""
    last: date | None
    """Last of them; None where it never ends."""
    given_up: bool = False


def closed_during(field: Field, purposes: Iterable[Purpose], day: date, out_on: date) -> Closed | None:
    """Return the first stretch of closed days that a stay from a day in to a day out meets, None if it meets none.

    Parameters
    ----------
    field, purposes
        The field and what it is for in each part of the year.
    day, out_on
        First day of the stay, and the first day that is not part of it.
    """
    closed = [each for each in purposes if each.purpose is Use.CLOSED]
    days = min(max((out_on - day).days, 1), _YEAR)
    first = _first(day, days, closed, wanted=True)
    ends = field.retired_on
    if ends is not None and ends < out_on and (first is None or ends <= first):
        return Closed(ends, None, given_up=True)
    if first is None:
        return None
    after = _first(first, _YEAR + 1, closed, wanted=False)
    return Closed(first, after - timedelta(days=1) if after is not None else None)


def _first(begin: date, days: int, closed: list[Purpose], *, wanted: bool) -> date | None:
    """Return the first of some days that is closed, or that is not, as wanted."""
    coming = (begin + timedelta(days=number) for number in range(days if closed else 0))
    return next((day for day in coming if any(each.covers(day) for each in closed) is wanted), None)


def closed_words(field: Field, closed: Closed, day: date, out_on: date) -> tuple[Text, Text]:
    """Return what is against a stay from a day in to a day out, and the remedy."""
    values: dict[str, Value] = {"field": field.name, "first": closed.first, "out": out_on}
    sooner = Text("Let the pigs go out on {first} or before, or choose another field.", {"first": closed.first})
    if closed.given_up:
        return Text("{field} is given up on {first}; the stay would go on until {out}.", values), sooner
    if closed.last is None:
        return Text("{field} is closed all year.", values), Text("Choose another field.")
    values["last"] = closed.last
    if closed.first == day:
        return Text("{field} is closed until {last}.", values), Text("Choose a day after that, or another field.")
    return Text("{field} is closed from {first} to {last}; the stay would go on until {out}.", values), sooner
