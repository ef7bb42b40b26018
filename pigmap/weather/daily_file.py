"""Daily weather from a text file with a column for each reading."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path

from pigmap.errors import RecordError
from pigmap.records import WeatherDay
from pigmap.records.frozen import dataclass
from pigmap.text import Text, Value
from pigmap.weather.daily_columns import Columns, Told, columns_of, head_of, names_a_day
from pigmap.weather.daily_dates import day_reader
from pigmap.weather.daily_rows import RawDay, Said, is_exchanged, raw_days, weather_days
from pigmap.weather.daily_table import Table, read_table

HOTTEST = 60.0
"""No thermometer in the shade has stood higher [°C]: numbers above it are °F, or wrong."""
_LEAST_EXCHANGED = 3
"""Fewer rows with exchanged temperatures are slips; from here on and in more than half, the columns are. Own choice."""
_MONTHS_NAMED = 3
_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


@dataclass(frozen=True, slots=True)
class DailyFile:
    """The days of one file, and what was left out of it."""

    days: tuple[WeatherDay, ...]
    left_out: tuple[Text, ...]
    """A sentence for each row, or reading of one, that was refused."""
    notes: tuple[Text, ...] = ()
    """What else is worth knowing: in which units it was taken, months without a day."""
    head: str = ""
    """What the file is known by when its like comes again."""
    rows: tuple[int, ...] = ()
    """The row of each day, counted from 1, the row of names not counted."""
    said: tuple[Said, ...] = ()
    """What was left out, row by row."""


def read_daily_file(path: Path, *, columns: Mapping[str, str] | None = None, units: Told = "") -> DailyFile:
    """Read days of weather: rain, lowest and highest temperature, humidity.

    Parameters
    ----------
    path
        A text file of one row a day, its cells parted by commas, semicolons, tabs or spaces; remarks may stand above
        the row of names.
    columns
        Name of the column of each reading where it is no usual one: ``date``, or ``year`` and ``doy`` (the day of
        the year); ``rain``, ``tmin``, ``tmax``, ``humidity``.
    units
        ``us`` for inches and °F, ``metric`` for millimetres and °C, where the names of the columns do not say.

    Raises
    ------
    RecordError
        If there is no such file, it is no table, has no column for the day or none for a reading, its dates or units
        cannot be told, its lowest and highest temperatures are exchanged, or no row of it can be used.
    """
    wanted = {name.casefold() for name in (columns or {}).values()}
    table = read_table(path, lambda cells: _is_head(cells, wanted))
    found = columns_of(path.name, table.names, columns, units)
    day = day_reader(path.name, found.at, table.rows)
    read, unread = raw_days(table.rows, table.names, found, day)
    _ask_for_unit(path.name, table, found, read)
    _refuse_exchanged(path.name, table, found, read)
    days, rows, left_out = weather_days(read, path.name)
    if not days:
        raise _none(path.name, len(table.rows))
    in_order = tuple(days[each] for each in sorted(days))
    said = tuple(sorted([*unread, *left_out], key=lambda one: one.row))
    notes = (*_unit_notes(found), *_month_notes(in_order))
    at = tuple(rows[each] for each in sorted(days))
    return DailyFile(in_order, tuple(each.words for each in said), notes, head_of(table.names), at, said)


def head_of_file(path: Path) -> tuple[str, ...]:
    """Return the names of the columns of a file, to choose from where they are no usual ones."""
    return read_table(path, names_a_day).names


def _is_head(cells: Sequence[str], wanted: set[str]) -> bool:
    return names_a_day(cells) or (bool(wanted) and wanted <= {cell.casefold() for cell in cells})


def _ask_for_unit(file: str, table: Table, columns: Columns, read: Sequence[RawDay]) -> None:
    """Refuse a file whose highest temperatures are no degrees Celsius, where nothing says what they are."""
    if "max_c" in columns.units:
        return
    hot = [value for each in read if (value := each.values.get("max_c")) is not None and value > HOTTEST]
    if len(hot) > 1 or (hot and len(hot) == len(read)):
        raise RecordError(
            "The highest temperature in {file} is {most}, more than there is in °C. Is it in °F, and rain in inches?",
            remedy="Write (F) or (C) beside {column} in its first row, or say that it is in US or in metric units.",
            file=file,
            most=f"{max(hot):g}",
            column=table.names[columns.at["max_c"]],
        )


def _refuse_exchanged(file: str, table: Table, columns: Columns, read: Sequence[RawDay]) -> None:
    exchanged = sum(is_exchanged(each) for each in read)
    if exchanged >= _LEAST_EXCHANGED and exchanged * 2 > len(read):
        names = {each: table.names[columns.at[each]] for each in ("min_c", "max_c")}
        raise RecordError(
            "In {count} of {rows} rows of {file} {low} lies above {high}: the two columns are exchanged.",
            remedy="Exchange the two names in its first row.",
            count=exchanged,
            rows=len(read),
            file=file,
            low=names["min_c"],
            high=names["max_c"],
        )


def _none(file: str, rows: int) -> RecordError:
    return RecordError(
        "None of the {count} rows of {file} is a day of weather.",
        remedy="Give rain in millimetres and temperatures in degrees Celsius, one row a day.",
        count=rows,
        file=file,
    )


def _unit_notes(columns: Columns) -> Iterator[Text]:
    """Yield that a file was in other units than the farm keeps."""
    taken = list(dict.fromkeys(unit for unit in columns.units.values() if unit in ("in", "cm", "°F")))
    words = {"in": Text("rain from inches"), "cm": Text("rain from centimetres"), "°F": Text("temperatures from °F")}
    if taken:
        values: dict[str, Value] = {"one": words[taken[0]], "other": words[taken[-1]]}
        yield Text("Taken over: {one} and {other}." if len(taken) > 1 else "Taken over: {one}.", values)


def _month_notes(days: Sequence[WeatherDay]) -> Iterator[Text]:
    """Yield which months between the first day and the last have no day at all."""
    there = {_month(each.day) for each in days}
    missing = [month for month in range(_month(days[0].day), _month(days[-1].day) + 1) if month not in there]
    if not missing:
        return
    named = ", ".join(f"{_MONTHS[month % 12]} {month // 12}" for month in missing[:_MONTHS_NAMED])
    more = len(missing) - _MONTHS_NAMED
    if more > 0:
        values: dict[str, Value] = {"months": named, "count": len(missing), "more": more}
        words = "No day of {count} months is in it, {months} and {more} more; usual weather stands for them."
        yield Text(words, values)
    else:
        yield Text("No day of {months} is in it; usual weather stands for it.", {"months": named})


def _month(day: date) -> int:
    return day.year * 12 + day.month - 1
