"""Daily weather from a text file with a column for each reading."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path

from pigmap.errors import RecordError
from pigmap.records import WeatherDay
from pigmap.records.frozen import dataclass
from pigmap.text import Text

COLUMNS: dict[str, tuple[str, ...]] = {
    "day": ("date", "day", "datum", "data", "fecha", "dato", "time"),
    "rain_mm": ("rain", "rain_mm", "precipitation", "precip", "prcp", "rainfall", "rainfall_mm", "precipitation_mm"),
    "min_c": ("temp_min", "tmin", "t_min", "min_c", "tmin_c", "min", "min_temp", "temperature_min", "mint"),
    "max_c": ("temp_max", "tmax", "t_max", "max_c", "tmax_c", "max", "max_temp", "temperature_max", "maxt"),
}
"""Usual names of the columns, in small letters. Own choice."""

_DATES = ("%Y-%m-%d", "%Y/%m/%d", "%Y%m%d", "%Y-%j", "%d.%m.%Y", "%d.%m.%y")
_SLASHED = ("%d/%m/%Y", "%m/%d/%Y")


@dataclass(frozen=True, slots=True)
class DailyFile:
    """The days of one file, and what was left out of it."""

    days: tuple[WeatherDay, ...]
    left_out: tuple[Text, ...]
    """A sentence for each row that was refused."""


def read_daily_file(path: Path) -> DailyFile:
    """Read days of weather: rain in millimetres, temperatures in degrees Celsius.

    Raises
    ------
    RecordError
        If there is no such file, it is no table, has no column for the day or none for a reading, its dates cannot
        be told apart, or no row of it can be used.
    """
    rows = _table(path)
    columns = _columns(path, rows[0])
    how = _date_format(path, [row[columns["day"]] for row in rows[1:] if len(row) > columns["day"]])
    days: dict[date, WeatherDay] = {}
    left_out: list[Text] = []
    for number, row in enumerate(rows[1:], start=2):
        try:
            day = _weather_day(row, columns, how, path.name)
        except (ValueError, IndexError) as why:  # a RecordError is a ValueError
            said = why.message if isinstance(why, RecordError) else Text("it holds a value that is no number or date.")
            left_out.append(Text("Row {row}: {why}", {"row": number, "why": said}))
        else:
            days[day.day] = day
    if not days:
        raise RecordError(
            "None of the {count} rows of {file} is a day of weather.",
            remedy="Give rain in millimetres and temperatures in degrees Celsius, one row a day.",
            count=len(rows) - 1,
            file=path.name,
        )
    return DailyFile(tuple(days[day] for day in sorted(days)), tuple(left_out))


def _table(path: Path) -> list[list[str]]:
    if not path.is_file():
        raise RecordError(
            "The weather file {file} is not in {folder}.",
            remedy="Look for the file, and name it where it is.",
            file=path.name,
            folder=str(path.resolve().parent),
        )
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (UnicodeDecodeError, OSError) as why:
        raise _no_table(path) from why
    head = text.split("\n", 1)[0]
    mark = max(",;\t", key=head.count)
    rows = [[cell.strip() for cell in row] for row in csv.reader(text.splitlines(), delimiter=mark)]
    rows = [row for row in rows if any(row)]
    if len(rows) < 2 or len(rows[0]) < 2:
        raise _no_table(path)
    return rows


def _no_table(path: Path) -> RecordError:
    return RecordError(
        "{file} is not a table of daily weather.",
        remedy="Give a text file with commas: a first row with date, rain, tmin and tmax, then one row a day.",
        file=path.name,
    )


def _columns(path: Path, head: Sequence[str]) -> dict[str, int]:
    names = [name.casefold().replace(" ", "_") for name in head]
    found = {
        what: next(names.index(each) for each in usual if each in names)
        for what, usual in COLUMNS.items()
        if set(usual) & set(names)
    }
    if "day" not in found or len(found) < 2:
        raise RecordError(
            "{file} has no column for {what}; its columns are: {columns}.",
            remedy="Name them in its first row: date, rain, tmin, tmax.",
            file=path.name,
            what=Text("the date") if "day" not in found else Text("rain or temperature"),
            columns=", ".join(head),
        )
    return found


def _date_format(path: Path, told: Sequence[str]) -> str:
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
            file=path.name,
            first=told[0],
        )
    raise RecordError(
        "The dates of {file}, such as {first}, cannot be read.",
        remedy="Write them as YYYY-MM-DD.",
        file=path.name,
        first=told[0] if told else "",
    )


def _reads(told: str, how: str) -> bool:
    try:
        datetime.strptime(told, how)
    except ValueError:
        return False
    return True


def _weather_day(row: Sequence[str], columns: dict[str, int], how: str, source: str) -> WeatherDay:
    read = {what: _number(row[column]) for what, column in columns.items() if what != "day"}
    return WeatherDay(
        day=datetime.strptime(row[columns["day"]], how).date(),
        rain_mm=read.get("rain_mm"),
        min_c=read.get("min_c"),
        max_c=read.get("max_c"),
        source=source,
    )


def _number(told: str) -> float | None:
    if told.casefold() in ("", "nan", "na", "n/a", "-", "null"):
        return None
    return float(told.replace(",", "."))
