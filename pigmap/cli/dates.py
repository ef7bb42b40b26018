"""Days as they are typed after a command."""

from __future__ import annotations

import re
from datetime import date

from pigmap.errors import UsageError
from pigmap.records.limits import FIRST_DAY, LAST_DAY

_FORM = re.compile(r"\d{4}-\d{2}-\d{2}")


def day(typed: str) -> date:
    """Return the day that was typed as YYYY-MM-DD.

    Made for ``type=`` of an argument: what it raises is shown in words.

    Raises
    ------
    UsageError
        If it is no day of the calendar, or lies outside 1900 to 2199.

    Examples
    --------
    >>> day("2026-03-01")
    datetime.date(2026, 3, 1)
    """
    if not _FORM.fullmatch(typed):
        raise _not_a_day(typed)
    try:
        found = date.fromisoformat(typed)
    except ValueError:
        raise _not_a_day(typed) from None
    if not FIRST_DAY <= found < LAST_DAY:
        raise UsageError(
            "{typed} lies outside the years that a farm file keeps.",
            remedy="Give a day from {first} to {last}.",
            typed=typed,
            first=FIRST_DAY.isoformat(),
            last=LAST_DAY.replace(year=LAST_DAY.year - 1, month=12, day=31).isoformat(),
        )
    return found


def _not_a_day(typed: str) -> UsageError:
    return UsageError(
        "{typed} is not a day of the calendar.", remedy="Give year, month and day, such as 2026-03-01.", typed=typed
    )
