"""A file of daily weather: which of its days are new to the farm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from pigmap.records import Farm, WeatherDay
from pigmap.session.brought_weather import FileTold, read_weather, weather_taken
from pigmap.session.taking_in.result import TakenIn, TakenRow, refused
from pigmap.text import Text
from pigmap.weather.daily_columns import Told
from pigmap.weather.daily_rows import Said


def weather_out_of(path: Path, farm: Farm, columns: Mapping[str, str], units: Told = "") -> TakenIn:
    """Return what becomes of a file of weather.

    Raises
    ------
    RecordError
        If it is none.
    """
    told = FileTold(columns, units) if columns or units else None
    read = read_weather(farm, path, told)
    there = {row.day: row for row in farm.weather_days.values()}
    partly = {each.row: _words(each) for each in read.said if not each.whole}
    rows = [_row(at, day, there.get(day.day), partly.get(at, ())) for at, day in zip(read.rows, read.days, strict=True)]
    rows += [refused(each.row, "", _words(each)) for each in read.said if each.whole]
    return TakenIn(
        kind="weather",
        file=path.name,
        layer="",
        rows=tuple(sorted(rows, key=lambda row: row.row)),
        notes=read.notes,
        ready=weather_taken(read, told),
    )


def _row(at: int, day: WeatherDay, old: WeatherDay | None, said: tuple[Text, ...]) -> TakenRow:
    name = day.day.isoformat()
    if old is None:
        return TakenRow(at, name, "taken", said)
    same = replace(day, uid=old.uid, source=old.source) == old
    return TakenRow(at, name, "there already" if same else "changed", said)


def _words(said: Said) -> tuple[Text, ...]:
    """Return why something is left out, and what to do."""
    why = said.why if isinstance(said.why, Text) else Text("{why}", {"why": said.why})
    return (why, said.remedy) if said.remedy else (why,)
