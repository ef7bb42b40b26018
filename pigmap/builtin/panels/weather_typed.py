"""Rain as it is typed, in the farm's units."""

from __future__ import annotations

from datetime import date

from pigmap.builtin.panels.typed_numbers import number
from pigmap.document.edits import rain_in_gauge
from pigmap.errors import EditError
from pigmap.records import Edit
from pigmap.text import Quantity, Text
from pigmap.units import MM_PER_INCH, System

MOST_MM = 500.0
"""More rain in a day than this is a slip of the hand [mm]. Own choice."""


def rain_typed(typed: str, on: date, units: System) -> Edit:
    """Return the edit that writes down the rain of a day.

    Raises
    ------
    EditError
        If it is no number, or cannot have fallen.
    """
    plain = typed.strip().casefold()
    for unit in ("mm", "in", '"'):
        plain = plain.removesuffix(unit).strip()
    found = number(Text("The rain"), plain, "0.2" if units == "us" else "4.5")
    rain_mm = found * MM_PER_INCH if units == "us" else found
    if not 0.0 <= rain_mm <= MOST_MM:
        raise EditError(
            "The rain is {rain}; in a day between none and {most} falls.",
            remedy="Look at the gauge and at the unit again.",
            rain=Quantity(rain_mm, "mm", 1),
            most=Quantity(MOST_MM, "mm", 0),
        )
    return rain_in_gauge(on, round(rain_mm, 2))
