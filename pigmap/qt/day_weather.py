"""The weather of a day in a few words."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from pigmap.records import Farm, WeatherDay
from pigmap.text import Quantity, Text, Value


def weather_of(farm: Farm, day: date) -> WeatherDay | None:
    """Return what is known of the weather of a day."""
    return next((row for row in farm.weather_days.values() if row.day == day), None)


def weather_words(row: WeatherDay | None) -> Text:
    """Return rain, temperatures and whether the day is called hot; nothing where none of them is known.

    Examples
    --------
    >>> from pigmap.drawing.words import render
    >>> render(weather_words(WeatherDay(day=date(2026, 7, 14), rain_mm=0, max_c=31.2, hot=True)))
    'no rain, up to 31 °C, hot'
    """
    parts = list(_parts(row)) if row is not None else []
    if not parts:
        return Text("")
    names = [f"part{at}" for at in range(len(parts))]
    values: dict[str, Value] = dict(zip(names, parts, strict=True))
    return Text(", ".join(f"{{{name}}}" for name in names), values)


def _parts(row: WeatherDay) -> Iterator[Text]:
    if row.rain_mm is not None:
        rain = Quantity(row.rain_mm, "mm", 1)
        yield Text("{rain} of rain", {"rain": rain}) if row.rain_mm > 0 else Text("no rain")
    if row.min_c is not None and row.max_c is not None:
        low, high = Quantity(row.min_c, "°C", 0), Quantity(row.max_c, "°C", 0)
        yield Text("{low} to {high}", {"low": low, "high": high})
    elif row.max_c is not None:
        yield Text("up to {high}", {"high": Quantity(row.max_c, "°C", 0)})
    if row.hot:
        yield Text("hot")
