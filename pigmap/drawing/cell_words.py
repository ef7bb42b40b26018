"""A cell of a table as it is read on a screen or a sheet."""

from __future__ import annotations

from datetime import date

from pigmap.drawing.words import day_words, render
from pigmap.text import Quantity, Text, Value
from pigmap.units import System


def cell_words(cell: Value | float | None, unit: str = "", *, language: str = "en", system: System = "metric") -> str:
    """Return a cell in words; nothing where nobody knows it.

    Parameters
    ----------
    cell
        What stands in it; a day is said without its weekday.
    unit
        ``kg`` or ``kV`` where a number has one.
    language, system
        Of the words, and of the units.
    """
    if cell is None:
        return ""
    if isinstance(cell, date):
        return day_words(cell, "short year", language=language).split(" ", 1)[-1]
    if isinstance(cell, int | float) and unit in ("kg", "kV"):
        value = Text("{value}", {"value": Quantity(float(cell), "kg" if unit == "kg" else "kV", 1)})
        return render(value, language=language, system=system)
    return render(cell, language=language, system=system) if isinstance(cell, Text) else str(cell)
