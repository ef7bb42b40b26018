"""Frozen and dry ground carries too little current back to the energizer (W14)."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from pigmap.fence.cautions.caution import Caution, Level
from pigmap.fence.tables import (
    DRY_DAYS,
    DRY_MAX_C,
    DRY_RAIN_MM,
    EARTH_RETURN_SOURCE,
    FROZEN_DAYS,
    FROZEN_MEAN_C,
    READ_MOST_DAYS,
)
from pigmap.records import Farm, WeatherDay
from pigmap.text import Quantity, Text, Value

COLD = Text(
    "On frozen ground or snow a pig is hardly earthed. Clear snow from the line, use nets with earthed strands or an "
    "earth wire, and read the voltage against a probe in the ground."
)
DRY = Text("Water the ground round the earth stakes, set one more, and read the voltage against a probe in the ground.")


def earth_return(farm: Farm, called: Value, today: date) -> Caution | None:
    """Return that the ground leads badly, as the weather of the last days has it; None where it does not.

    Days without figures count for nothing: where too few are known, nothing is said.
    """
    weather = {each.day: each for each in farm.weather_days.values() if each.day <= today}
    last = max(weather, default=None)
    if last is None or (today - last).days > READ_MOST_DAYS:
        return None
    if _is_frozen(_days(weather, last, FROZEN_DAYS)):
        words = Text(
            "{paddock}: frost for {days} days up to {last}.", {"paddock": called, "days": FROZEN_DAYS, "last": last}
        )
        return Caution("W14", Level.WARN, words, COLD, EARTH_RETURN_SOURCE)
    rain = _dry_rain(_days(weather, last, DRY_DAYS))
    if rain is None:
        return None
    values: dict[str, Value] = {"paddock": called, "rain": Quantity(rain, "mm", 0), "days": DRY_DAYS, "last": last}
    words = Text("{paddock}: {rain} of rain in the {days} days up to {last}.", values)
    return Caution("W14", Level.WARN, words, DRY, EARTH_RETURN_SOURCE)


def _days(weather: dict[date, WeatherDay], last: date, count: int) -> list[WeatherDay]:
    days = (weather.get(last - timedelta(days=number)) for number in range(count))
    return [each for each in days if each is not None]


def _is_frozen(days: Sequence[WeatherDay]) -> bool:
    means = [(each.min_c + each.max_c) / 2 for each in days if each.min_c is not None and each.max_c is not None]
    return len(means) == FROZEN_DAYS and max(means) <= FROZEN_MEAN_C


def _dry_rain(days: Sequence[WeatherDay]) -> float | None:
    """Return the rain of dry days [mm]; None where they were not dry, or not all are known."""
    rain = [each.rain_mm for each in days if each.rain_mm is not None]
    warm = [each.max_c for each in days if each.max_c is not None]
    if len(rain) < DRY_DAYS or len(warm) < DRY_DAYS or sum(warm) / len(warm) <= DRY_MAX_C:
        return None
    return sum(rain) if sum(rain) < DRY_RAIN_MM else None
