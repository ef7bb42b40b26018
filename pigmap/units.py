"""Text and other units to SI and back, for entry and display only.

Everything inside is metres, square metres, kilograms, days, kilovolts and degrees Celsius.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

System = Literal["metric", "us"]

# Exact by definition: international yard and pound agreement of 1959; US gallon of 231 cubic inches.
METRES_PER_FOOT = 0.3048
M2_PER_ACRE = 4046.8564224
KG_PER_POUND = 0.45359237
LITRES_PER_GALLON = 3.785411784
MM_PER_INCH = 25.4
M2_PER_HECTARE = 10_000.0

# From here on an area reads better in hectares or acres. Common practice.
LARGE_AREA_M2 = 1_000.0


class Shown(NamedTuple):
    """A number as it is shown: value, its unit's sign and the digits after the point that suit it."""

    value: float
    unit: str
    digits: int


def shown(value: float, unit: str, system: System) -> Shown:
    """Return a value in the unit in which a person of that system reads it.

    Parameters
    ----------
    value, unit
        A value in one of the inside units (`pigmap.text.Unit`).
    system
        ``metric`` or ``us`` (US customary).

    Examples
    --------
    >>> shown(2500, "m²", "metric")
    Shown(value=0.25, unit='ha', digits=2)
    >>> shown(50, "m", "us")
    Shown(value=164.04199475065616, unit='ft', digits=0)
    """
    return _metric(value, unit) if system == "metric" else _customary(value, unit)


def _metric(value: float, unit: str) -> Shown:
    if unit == "m²" and abs(value) >= LARGE_AREA_M2:
        return Shown(value / M2_PER_HECTARE, "ha", _area_digits(value / M2_PER_HECTARE))
    if unit == "1":
        return Shown(value * 100, "%", 0)
    if unit == "kg·d/m²":
        return Shown(value * M2_PER_HECTARE / PIG_KG, "pig-days/ha", 0)
    return Shown(value, "days" if unit == "d" else unit, _METRIC_DIGITS.get(unit, 0))


def _area_digits(area: float) -> int:
    """Return the digits that an area is known to: outlines are drawn by eye. Own choice."""
    return 2 if abs(area) < 0.995 else 1 if abs(area) < 99.95 else 0


_METRIC_DIGITS = {"kV": 1, "J": 1}

PIG_KG = 100.0
"""Live weight that is told as one pig where a load is told in pig-days [kg]: said wherever it is explained."""


def _customary(value: float, unit: str) -> Shown:
    match unit:
        case "m":
            return Shown(value / METRES_PER_FOOT, "ft", 0)
        case "m²" if abs(value) >= LARGE_AREA_M2:
            return Shown(value / M2_PER_ACRE, "ac", _area_digits(value / M2_PER_ACRE))
        case "m²":
            return Shown(value / METRES_PER_FOOT**2, "sq ft", 0)
        case "kg":
            return Shown(value / KG_PER_POUND, "lb", 0)
        case "L":
            return Shown(value / LITRES_PER_GALLON, "gal", 0)
        case "°C":
            return Shown(value * 9 / 5 + 32, "°F", 0)
        case "mm":  # of rain, and of water in the soil
            return Shown(value / MM_PER_INCH, "in", 2)
        case "kg·d/m²":
            return Shown(value * M2_PER_ACRE / PIG_KG, "pig-days/ac", 0)
        case "kg/ha":
            return Shown(value / KG_PER_POUND * M2_PER_ACRE / M2_PER_HECTARE, "lb/ac", 0)
    return _metric(value, unit)
