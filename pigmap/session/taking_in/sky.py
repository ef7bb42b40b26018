"""A file of daily weather: which of its days are new to the farm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from pigmap.records import Farm, WeatherDay
from pigmap.session.brought_weather import FileTold, read_weather, weather_taken
from pigmap.session.taking_in.result import TakenIn, TakenRow
from pigmap.text import Text
from pigmap.weather.daily_columns import Told

MOST_LEFT_OUT = 200
"""Sentences on what is left out; of more the number is told."""


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
    rows = tuple(_row(at, day, there.get(day.day)) for at, day in enumerate(read.days, start=1))
    left_out = list(read.left_out[:MOST_LEFT_OUT])
    if len(read.left_out) > MOST_LEFT_OUT:
        left_out.append(Text("{count} more rows were left out.", {"count": len(read.left_out) - MOST_LEFT_OUT}))
    return TakenIn(
        kind="weather",
        file=path.name,
        layer="",
        rows=rows,
        notes=(*read.notes, *left_out),
        ready=weather_taken(read, told),
    )


def _row(at: int, day: WeatherDay, old: WeatherDay | None) -> TakenRow:
    name = day.day.isoformat()
    if old is None:
        return TakenRow(at, name, "taken")
    same = replace(day, uid=old.uid, source=old.source) == old
    return TakenRow(at, name, "there already" if same else "changed")
