"""Weather from a file: which columns it has is told once, and kept with the farm for the next file of its kind."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from pigmap.document.edits import add_weather, change_setting, together
from pigmap.errors import RecordError
from pigmap.records import Edit, Farm
from pigmap.text import Text
from pigmap.weather.daily_columns import Told, head_of
from pigmap.weather.daily_file import DailyFile, head_of_file, read_daily_file

COLUMNS_SETTING = "weather columns"
"""Setting: for each head of a file (the names of its columns) which reading stands where, and in which units."""


class FileTold(NamedTuple):
    """What someone told of a file of weather."""

    columns: Mapping[str, str] = {}
    """Name of the column of each reading, where it is no usual one."""
    units: Told = ""


def told_of(farm: Farm, path: Path) -> FileTold:
    """Return what was told of a file with the same columns before; nothing where none was.

    Raises
    ------
    RecordError
        If there is no such file, or it is no table.
    """
    return _kept(farm).get(head_of(head_of_file(path)), FileTold())


def read_weather(farm: Farm, path: Path, told: FileTold | None = None) -> DailyFile:
    """Return the days of a file, its columns as they are told now, or were told of its like before.

    Raises
    ------
    RecordError
        In words, if it cannot be read.
    """
    told = told if told is not None else told_of(farm, path)
    return read_daily_file(path, columns=told.columns, units=told.units)


def weather_taken(read: DailyFile, told: FileTold | None = None) -> Edit:
    """Return the edit that takes in the days of a file, and keeps what was told of it; undone at once."""
    taken = add_weather(read.days)
    if told is None or not (told.columns or told.units):
        return taken

    def changes(farm: Farm) -> Any:
        kept = {head: _as_kept(each) for head, each in _kept(farm).items()} | {read.head: _as_kept(told)}
        return together(taken.label, [taken, change_setting(COLUMNS_SETTING, kept)]).changes(farm)

    return Edit(taken.label, changes)


def said_of(read: DailyFile, most: int = 3) -> tuple[Text, ...]:
    """Return what to say of what was read: its notes, and the first rows that were left out."""
    more = len(read.left_out) - most
    said = (*read.notes, *read.left_out[:most])
    return (*said, Text("{count} more rows were left out.", {"count": more})) if more > 0 else said


def parsed_columns(told: str) -> dict[str, str]:
    """Return the columns that are written as ``date=when,rain=mm fallen``.

    Raises
    ------
    RecordError
        If a part of it names no column.
    """
    pairs = [part.partition("=") for part in told.split(",") if part.strip()]
    for word, _, name in pairs:
        if not name.strip():
            raise RecordError(
                "{part} does not say which column holds which reading.",
                remedy="Write date=NAME,rain=NAME,tmin=NAME,tmax=NAME with the names in the file's first row.",
                part=word.strip(),
            )
    return {word.strip(): name.strip() for word, _, name in pairs}


def _kept(farm: Farm) -> dict[str, FileTold]:
    """Return what the farm keeps; what another program may have put there instead counts as nothing."""
    kept = farm.setting(COLUMNS_SETTING, {})
    if not isinstance(kept, dict):
        return {}
    return {
        str(head): FileTold(_words(each.get("columns")), each["units"] if each.get("units") in ("metric", "us") else "")
        for head, each in kept.items()
        if isinstance(each, dict)
    }


def _words(columns: object) -> dict[str, str]:
    return {str(word): str(name) for word, name in columns.items()} if isinstance(columns, dict) else {}


def _as_kept(told: FileTold) -> dict[str, object]:
    return {"columns": dict(told.columns), "units": told.units}
