"""Weather by hand: what stood in the rain gauge, and whether a day is hot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from pigmap.records import Edit, Farm, RowChange, WeatherDay, add, change, remove
from pigmap.text import Quantity, Text

GAUGE = "gauge"
"""Source of rain that someone read and typed."""


def rain_in_gauge(on: date, rain_mm: float) -> Edit:
    """Return the edit that writes down the rain of a day [mm]; its other readings stay."""
    fresh = WeatherDay(day=on, rain_mm=rain_mm, source=GAUGE)

    def changes(farm: Farm) -> Sequence[RowChange]:
        old = _of(farm, on)
        if old is None:
            return [add(fresh)]
        return _changed(old, replace(old, rain_mm=rain_mm, source=GAUGE))

    return Edit(Text("{rain} of rain on {day}.", {"rain": Quantity(rain_mm, "mm", 1), "day": on}), changes)


def call_hot(on: date, *, hot: bool = True) -> Edit:
    """Return the edit that calls a day hot, or no longer; a day of which nothing else is known goes then."""
    label = Text("{day} is a hot day." if hot else "{day} is no hot day.", {"day": on})

    def changes(farm: Farm) -> Sequence[RowChange]:
        old = _of(farm, on)
        if old is None:
            return [add(WeatherDay(day=on, hot=True))] if hot else []
        if not hot and _is_blank(old):
            return [remove(old)]
        return _changed(old, replace(old, hot=hot))

    return Edit(label, changes)


def _of(farm: Farm, on: date) -> WeatherDay | None:
    return next((row for row in farm.weather_days.values() if row.day == on), None)


def _changed(old: WeatherDay, new: WeatherDay) -> list[RowChange]:
    return [change(old, new)] if new != old else []


def _is_blank(row: WeatherDay) -> bool:
    return row.rain_mm is None and row.min_c is None and row.max_c is None and row.humidity_pct is None
