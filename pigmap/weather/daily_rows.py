"""The rows of a table as days of weather: what cannot be is left out and said, with its row and value."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import NamedTuple

from pigmap.errors import RecordError
from pigmap.records import WeatherDay
from pigmap.text import Text, Value
from pigmap.weather.daily_columns import READINGS, Columns
from pigmap.weather.daily_dates import ReadDay
from pigmap.weather.daily_table import Row

_NOT_READ = frozenset({"", "nan", "na", "n/a", "-", "--", "---", "null", "none", "m", ".", "x", "*"})
_NO_READING = frozenset({-99.0, -99.9, -999.0, -999.9, -9999.0, -9999.9, -6999.0})
"""Numbers that stations write where they have none. Common practice."""
_TRACE = frozenset({"t", "tr", "trace"})
"""Rain too little to measure. Common practice."""


class Said(NamedTuple):
    """What was left out of a row."""

    row: int
    """Its number."""
    why: Value
    whole: bool = True
    """Whether all of it is left out, or a reading alone."""
    remedy: Text = Text("")

    @property
    def words(self) -> Text:
        """Return it as a sentence that names the row."""
        return Text("Row {row}: {why}", {"row": self.row, "why": self.why})


class RawDay(NamedTuple):
    """What stands in one row, in the units of the farm."""

    row: int
    day: date
    values: dict[str, float | None]


def raw_days(
    rows: Sequence[Row], names: Sequence[str], columns: Columns, day: ReadDay
) -> tuple[list[RawDay], list[Said]]:
    """Return the rows that can be read, and what to say of the others."""
    read: list[RawDay] = []
    said: list[Said] = []
    for row in rows:
        try:
            read.append(RawDay(row.number, _day(row, columns, day), _values(row, names, columns)))
        except RecordError as why:
            said.append(Said(row.number, why.message, remedy=why.remedy))
    return read, said


def weather_days(read: Sequence[RawDay], source: str) -> tuple[dict[date, WeatherDay], dict[date, int], list[Said]]:
    """Return the days that can be, each once, the rows they stand in, and what was left out of the rows."""
    days: dict[date, WeatherDay] = {}
    rows: dict[date, int] = {}
    said: list[Said] = []
    for row, day, values in read:
        if day in days:
            twice = Text(
                "{day} stands in row {other} already, which is the one taken.", {"day": day, "other": rows[day]}
            )
            said.append(Said(row, twice))
            continue
        said += [Said(row, words, whole=False) for words in _humidity_left_out(values)]
        try:
            days[day] = _weather_day(day, values, source)
        except RecordError as why:
            said.append(Said(row, why.message, remedy=why.remedy))
        else:
            rows[day] = row
    return days, rows, said


def is_exchanged(read: RawDay) -> bool:
    """Whether the lowest temperature of a row lies above the highest."""
    low, high = read.values.get("min_c"), read.values.get("max_c")
    return low is not None and high is not None and low > high


def _day(row: Row, columns: Columns, day: ReadDay) -> date:
    most = max(columns.at.values())
    if len(row.cells) <= most:
        values: dict[str, Value] = {"count": len(row.cells), "needed": most + 1}
        raise RecordError("it has {count} of {needed} columns.", remedy="", **values)
    try:
        return day(row.cells)
    except ValueError:
        told = [row.cells[columns.at[each]] for each in ("year", "month", "day", "day_of_year") if each in columns.at]
        raise RecordError("{told} is no date.", remedy="", told=" ".join(told)) from None


def _values(row: Row, names: Sequence[str], columns: Columns) -> dict[str, float | None]:
    return {
        reading: in_farm_units(_number(row.cells[at], names[at]), columns.units.get(reading, ""))
        for reading, at in columns.at.items()
        if reading in READINGS
    }


def _number(told: str, column: str) -> float | None:
    plain = told.casefold().removesuffix("%").strip()
    if plain in _NOT_READ:
        return None
    if plain in _TRACE:
        return 0.0
    try:
        number = float(plain.replace(",", "."))
    except ValueError:
        raise RecordError("{told} in {column} is no number.", remedy="", told=told, column=column) from None
    return None if number in _NO_READING else number


def in_farm_units(value: float | None, unit: str) -> float | None:
    """Return a reading in millimetres or degrees Celsius, to a hundredth.

    Examples
    --------
    >>> in_farm_units(0.25, "in"), in_farm_units(86.0, "°F"), in_farm_units(12.8, "")
    (6.35, 30.0, 12.8)
    """
    if value is None:
        return None
    if unit == "°F":
        return round((value - 32.0) * 5.0 / 9.0, 2)
    return round(value * {"in": 25.4, "cm": 10.0}[unit], 2) if unit in ("in", "cm") else value


def _humidity_left_out(values: dict[str, float | None]) -> Iterator[Text]:
    """Yield what to say of humidities that cannot be, and take them out: the rest of their row is sound."""
    for name in ("humidity_pct", "humidity_max", "humidity_min"):
        value = values.get(name)
        if value is not None and not 0.0 <= value <= 100.0:
            values[name] = None
            yield Text("the humidity is {value} %; the rest of the row is taken.", {"value": f"{value:g}"})


def _weather_day(day: date, values: dict[str, float | None], source: str) -> WeatherDay:
    humidity, high, low = (values.get(each) for each in ("humidity_pct", "humidity_max", "humidity_min"))
    if humidity is None and high is not None and low is not None:
        humidity = round((high + low) / 2, 1)
    return WeatherDay(
        day=day,
        rain_mm=values.get("rain_mm"),
        min_c=values.get("min_c"),
        max_c=values.get("max_c"),
        humidity_pct=humidity,
        source=source,
    )
