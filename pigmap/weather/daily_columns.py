"""Which column of a table of weather holds which reading, and in which unit: by their names, or as someone told."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Literal, NamedTuple

from pigmap.errors import RecordError
from pigmap.text import Text

Told = Literal["", "metric", "us"]
"""In which units a file is, where its names do not say: not told, or millimetres and °C, or inches and °F."""

NAMES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "day": ("date", "day", "datum", "data", "fecha", "dato", "time", "year_doy", "yyyymmdd", "yearday"),
        "year": ("year", "jahr", "annee", "yr", "yyyy"),
        "month": ("month", "monat", "mois", "mo", "mm"),
        "day_of_year": ("doy", "day_of_year", "jday", "julian", "julian_day", "yday"),
        "rain_mm": (
            *("rain", "rain_mm", "precipitation", "precip", "prcp", "rainfall", "rainfall_mm", "precipitation_mm"),
            *("regen", "niederschlag", "pluie", "precipitations", "lluvia", "neerslag", "nedbor", "gauge"),
        ),
        "min_c": (
            *("temp_min", "tmin", "t_min", "min_c", "tmin_c", "min", "min_temp", "temperature_min", "mint", "tn"),
            *("lowest", "minimum_temperature", "min_temperature", "minimum"),
        ),
        "max_c": (
            *("temp_max", "tmax", "t_max", "max_c", "tmax_c", "max", "max_temp", "temperature_max", "maxt", "tx"),
            *("highest", "maximum_temperature", "max_temperature", "maximum"),
        ),
        "humidity_pct": ("humidity", "rh", "rhum", "relative_humidity", "humidity_pct", "rh_mean", "rhmean"),
        "humidity_max": ("rhmax", "rh_max", "max_humidity", "humidity_max"),
        "humidity_min": ("rhmin", "rh_min", "min_humidity", "humidity_min"),
    }
)
"""Usual names of the columns, in small letters, without their units. Own choice."""

READINGS = ("rain_mm", "min_c", "max_c", "humidity_pct", "humidity_max", "humidity_min")
"""What a column can hold besides the day."""

WORDS: Mapping[str, str] = MappingProxyType(
    {
        "date": "day",
        "rain": "rain_mm",
        "tmin": "min_c",
        "tmax": "max_c",
        "humidity": "humidity_pct",
        "year": "year",
        "month": "month",
        "doy": "day_of_year",
    }
)
"""What a person calls the readings, and the name of each here."""

_UNITS = {"in": "in", "inch": "in", "inches": "in", "mm": "mm", "cm": "cm"} | {
    **dict.fromkeys(("f", "degf", "deg_f", "fahrenheit"), "°F"),
    **dict.fromkeys(("c", "degc", "deg_c", "celsius"), "°C"),
}
_US = ("in", "°F")


class Columns(NamedTuple):
    """Where each reading stands, and its unit."""

    at: Mapping[str, int]
    """Column of each reading, from 0, by its name in `NAMES`."""
    units: Mapping[str, str]
    """``in``, ``mm``, ``cm``, ``°F`` or ``°C`` of each reading whose unit is known."""


def plain_name(name: str) -> tuple[str, str]:
    """Return the name of a column in small letters without its unit, and the unit, or nothing where it has none.

    Examples
    --------
    >>> plain_name("Precip (in)"), plain_name("TMAX_F"), plain_name("Regen [mm]"), plain_name("Temp. Max")
    (('precip', 'in'), ('tmax', '°F'), ('regen', 'mm'), ('temp_max', ''))
    """
    words = [word for word in re.split(r"[^\w%]+|_", name.casefold().replace("°", " ")) if word]
    unit = _UNITS.get(words[-1], "") if len(words) > 1 else ""
    return "_".join(words[:-1] if unit else words), unit


def names_a_day(cells: Sequence[str]) -> bool:
    """Whether the cells of a line name a day and a reading: whether it is the row of names."""
    found = _by_names(cells)
    return ("day" in found or "year" in found) and any(each in found for each in READINGS)


def head_of(names: Sequence[str]) -> str:
    """Return what a table is known by when it comes again: the names of its columns."""
    return "|".join(name.casefold() for name in names)


def columns_of(file: str, names: Sequence[str], told: Mapping[str, str] | None, units: Told) -> Columns:
    """Return where each reading of a table stands.

    Parameters
    ----------
    file, names
        Its name, and those of its columns.
    told
        Name of the column of each reading that someone told; the others are found by their names.
    units
        What is told of the units; a unit in a column's name goes before it.

    Raises
    ------
    RecordError
        If it has no column for the day, none for a reading, or not one that was told.
    """
    found = {**_by_names(names), **_as_told(file, names, told or {})}
    if "year" in found and "day" in found and "month" not in found and "day_of_year" not in found:
        found["day_of_year"] = found.pop("day")  # the day beside a year is that of the year
    dated = "day" in found or {"year", "day_of_year"} <= found.keys()
    if not dated or not any(each in found for each in READINGS):
        raise RecordError(
            "{file} has no column for {what}; its columns are: {columns}.",
            remedy="Name them in its first row: date, rain, tmin, tmax.",
            file=file,
            what=Text("rain or temperature") if dated else Text("the date"),
            columns=", ".join(names),
        )
    return Columns(found, _units(names, found, units))


def _by_names(names: Sequence[str]) -> dict[str, int]:
    plain = [plain_name(name) for name in names]
    whole = [name.casefold().replace(" ", "_") for name in names]
    found: dict[str, int] = {}
    for reading, usual in NAMES.items():
        at = next((at for at, name in enumerate(whole) if name in usual), None)
        if at is None:
            at = next((at for at, (name, _) in enumerate(plain) if name in usual), None)
        if at is not None:
            found[reading] = at
    return found


def _as_told(file: str, names: Sequence[str], told: Mapping[str, str]) -> dict[str, int]:
    found = {}
    for word, name in told.items():
        reading = WORDS.get(word, word)
        if reading not in NAMES:
            raise RecordError(
                "A daily file has no reading {reading}.",
                remedy="Readings are: {known}.",
                reading=word,
                known=", ".join(WORDS),
            )
        at = next((at for at, each in enumerate(names) if each.casefold() == name.casefold()), None)
        if at is None:
            raise RecordError(
                "{file} has no column {name}; its columns are: {columns}.",
                remedy="Take one of these.",
                file=file,
                name=name,
                columns=", ".join(names),
            )
        found[reading] = at
    return found


def _units(names: Sequence[str], found: Mapping[str, int], told: Told) -> dict[str, str]:
    """Return the unit of each reading; where one column says that it is in US units, those that are silent are too."""
    units = {each: unit for each, at in found.items() if each in READINGS and (unit := _unit_for(each, names[at]))}
    silent = told or ("us" if any(unit in _US for unit in units.values()) else "")
    if silent:
        for each in READINGS:
            if each in found and not each.startswith("humidity"):
                units.setdefault(each, _usual_unit(each, us=silent == "us"))
    return units


def _unit_for(reading: str, name: str) -> str:
    unit = plain_name(name)[1]
    lengths = unit in ("in", "mm", "cm")
    return unit if lengths == (reading == "rain_mm") and not reading.startswith("humidity") else ""


def _usual_unit(reading: str, *, us: bool) -> str:
    if reading == "rain_mm":
        return "in" if us else "mm"
    return "°F" if us else "°C"
