"""How the dates of a table are written: in one column, or as year, month and day, or as year and day of the year."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date, datetime, timedelta

from pigmap.errors import RecordError
from pigmap.weather.daily_table import Row

_DATES = (
    "%Y-%m-%d",
    "%Y/%m/%d",
    "%Y%m%d",
    "%Y-%j",
    "%Y/%j",
    "%Y%j",
    "%Y-%m-%dT%H:%M",
    "%Y-%m-%d %H:%M",
    "%d.%m.%Y",
    "%d.%m.%y",
)
_SLASHED = ("%d/%m/%Y", "%m/%d/%Y")
_LOOKED_AT = 400
"""Rows by which the way of writing is told. Own choice; 12 days of each month say which number is the month."""

ReadDay = Callable[[Sequence[str]], date]
"""Reads the day of a row's cells; raises a ValueError where it names none."""


def day_reader(file: str, at: Mapping[str, int], rows: Sequence[Row]) -> ReadDay:
    """Return what reads the day of a row.

    Raises
    ------
    RecordError
        If the dates cannot be read, or day and month cannot be told apart.
    """
    if "year" in at and "month" in at and "day" in at:
        return lambda cells: date(*(int(cells[at[each]]) for each in ("year", "month", "day")))
    if "year" in at and "day_of_year" in at:
        return lambda cells: _of_year(int(cells[at["year"]]), int(float(cells[at["day_of_year"]])))
    column = at["day"]
    how = _way(file, [row.cells[column] for row in rows[:_LOOKED_AT] if len(row.cells) > column])
    return lambda cells: datetime.strptime(cells[column], how).date()


def _of_year(year: int, number: int) -> date:
    day = date(year, 1, 1) + timedelta(days=number - 1)
    if number < 1 or day.year != year:
        raise ValueError(number)
    return day


def _way(file: str, told: Sequence[str]) -> str:
    """Return how the dates are written: the first way that reads nearly all of them.

    Day and month between slashes are told apart by a number above 12; where there is none they are not guessed.
    """
    for how in _DATES:
        if sum(_reads(each, how) for each in told) * 2 > len(told):
            return how
    read = [sum(_reads(each, how) for each in told) for how in _SLASHED]
    if max(read) * 2 > len(told):
        if read[0] != read[1]:
            return _SLASHED[read.index(max(read))]
        raise RecordError(
            "The dates of {file}, such as {first}, do not say which number is the day and which the month.",
            remedy="Write them as YYYY-MM-DD.",
            file=file,
            first=told[0],
        )
    raise RecordError(
        "The dates of {file}, such as {first}, cannot be read.",
        remedy="Write them as YYYY-MM-DD.",
        file=file,
        first=told[0] if told else "",
    )


def _reads(told: str, how: str) -> bool:
    try:
        datetime.strptime(told, how)
    except ValueError:
        return False
    return True
