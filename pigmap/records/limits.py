"""Refusals that records share: values that cannot exist."""

from __future__ import annotations

import math
from datetime import date

from shapely.geometry.base import BaseGeometry

from pigmap.errors import RecordError

FIRST_DAY = date(1900, 1, 1)
LAST_DAY = date(2200, 1, 1)


def need_name(what: str, name: str) -> None:
    """Refuse a name that is empty or only spaces."""
    if not name.strip():
        raise RecordError("The {what} has no name.", remedy="Give it one.", what=what)


def need_at_least(what: str, value: float | None, least: float) -> None:
    """Refuse a number below a limit, and one that is not finite; None passes."""
    if value is not None and not (math.isfinite(value) and value >= least):
        raise RecordError(
            "{what} is {value}.",
            remedy="Give a number of at least {least}.",
            what=what,
            value=f"{value:g}",
            least=f"{least:g}",
        )


def need_between(what: str, value: float | None, least: float, most: float) -> None:
    """Refuse a number outside a range, and one that is not finite; None passes."""
    if value is not None and not (math.isfinite(value) and least <= value <= most):
        raise RecordError(
            "{what} is {value}.",
            remedy="Give a number from {least} to {most}.",
            what=what,
            value=f"{value:g}",
            least=f"{least:g}",
            most=f"{most:g}",
        )


def need_day(what: str, day: date | None) -> None:
    """Refuse a day outside 1900 to 2199; None passes."""
    if day is not None and not FIRST_DAY <= day < LAST_DAY:
        raise RecordError(
            "{what} is {day}.",
            remedy="Give a day between {first} and {last}.",
            what=what,
            day=day,
            first=FIRST_DAY,
            last=LAST_DAY,
        )


def need_month_day(what: str, month_day: str | None) -> None:
    """Refuse what is no day of any year, written as MM-DD; 29 February is one, None passes."""
    if month_day is not None and not _is_month_day(month_day):
        raise RecordError(
            "{what} begins or ends on {day}.",
            remedy="Give month and day as MM-DD, such as 03-15.",
            what=what,
            day=month_day,
        )


def _is_month_day(month_day: str) -> bool:
    try:
        return date.fromisoformat(f"2000-{month_day}").strftime("%m-%d") == month_day  # a leap year has all days
    except ValueError:
        return False


def need_shape(what: str, shape: BaseGeometry) -> None:
    """Refuse a shape that is empty or has a coordinate that is not finite."""
    if math.isfinite(sum(shape.bounds)):  # those of an empty shape are no numbers
        return
    if shape.is_empty:
        raise RecordError("{what} has no shape.", remedy="Draw it again.", what=what)
    raise RecordError(
        "{what} has a corner that lies nowhere (a coordinate that is not a number).",
        remedy="Draw it again, or mend the file it came from.",
        what=what,
    )
