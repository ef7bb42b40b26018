"""Texts in words: one language and one system of units, chosen by whoever shows them."""

from __future__ import annotations

import gettext
from datetime import date
from functools import cache
from typing import Literal

from pigmap.drawing.english import SORTS, English
from pigmap.paths import resource
from pigmap.text import Quantity, Text, Value
from pigmap.text.sentence import filled
from pigmap.units import System, shown

_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
_SHORT = 3

DayForm = Literal["shortest", "short", "short year", "long", "full"]
"""``Thu 16``, ``Thu 16 Oct``, ``Thu 16 Oct 2025``, ``Thursday 16 October``, ``Thursday 16 October 2025``."""

_DAY_PATTERNS: dict[DayForm, str] = {
    "shortest": "{weekday} {day}",
    "short": "{weekday} {day} {month}",
    "short year": "{weekday} {day} {month} {year}",
    "long": "{weekday} {day} {month}",
    "full": "{weekday} {day} {month} {year}",
}


def render(text: Text, *, language: str = "en", system: System = "metric") -> str:
    """Return a text as a person reads it.

    Examples
    --------
    >>> render(Text("Keep {distance} off.", {"distance": Quantity(6, "m")}))
    'Keep 6 m off.'
    >>> render(Text("{count} net short.", plural="{count} nets short.", count=2))
    '2 nets short.'
    """
    if not text.id:
        return ""
    catalogue = _catalogue(language)
    if text.plural and text.count is not None:
        pattern = catalogue.ngettext(text.id, text.plural, text.count)
    else:
        pattern = catalogue.gettext(text.id)
    values = {name: value_words(value, language=language, system=system) for name, value in text.values.items()}
    if text.count is not None:
        values.setdefault("count", str(text.count))
    return filled(text, pattern, values)


def value_words(value: Value, *, language: str = "en", system: System = "metric") -> str:
    """Return one value of a text as a person reads it."""
    if isinstance(value, Text):
        return render(value, language=language, system=system)
    if isinstance(value, Quantity):
        return quantity_words(value, language=language, system=system)
    if isinstance(value, date):
        return day_words(value, "short year", language=language)
    return str(value)


def quantity_words(quantity: Quantity, *, language: str = "en", system: System = "metric") -> str:
    """Return a number with its unit in a person's system.

    Examples
    --------
    >>> quantity_words(Quantity(2500, "m²"))
    '0.25 ha'
    >>> quantity_words(Quantity(1, "d"))
    '1 day'
    """
    value, unit, digits = shown(quantity.value, quantity.unit, system)
    kept = system == "metric" or unit == quantity.unit
    if quantity.digits is not None and kept:
        digits = quantity.digits
    number = f"{value + 0.0:.{digits}f}"
    if float(number) == 0:
        number = number.lstrip("-")
    if unit == "days":
        return f"{number} {_catalogue(language).ngettext('day', 'days', 1 if number == '1' else 2)}"
    return f"{number}°" if unit == "°" else f"{number} {unit}"


def day_words(day: date, form: DayForm = "short", *, language: str = "en") -> str:
    """Return a day of the calendar in words; the order is that of the language's pattern.

    Examples
    --------
    >>> day_words(date(2025, 10, 16))
    'Thu 16 Oct'
    >>> day_words(date(2025, 10, 16), "shortest")
    'Thu 16'
    >>> day_words(date(2025, 10, 14), "full")
    'Tuesday 14 October 2025'
    """
    catalogue = _catalogue(language)
    weekday, month = catalogue.gettext(_DAYS[day.weekday()]), catalogue.gettext(_MONTHS[day.month - 1])
    if form.startswith("short"):
        weekday, month = weekday[:_SHORT], month[:_SHORT]
    pattern = catalogue.gettext(_DAY_PATTERNS[form])
    return pattern.format(weekday=weekday, day=day.day, month=month, year=day.year)


def month_words(month: int, *, language: str = "en", short: bool = False) -> str:
    """Return the name of a month, 1 to 12."""
    name = _catalogue(language).gettext(_MONTHS[month - 1])
    return name[:_SHORT] if short else name


@cache
def _catalogue(language: str) -> gettext.NullTranslations:
    if language == "en":  # the ids are English
        return gettext.NullTranslations()
    if language in SORTS:
        return English(language)
    try:
        folder = resource("translations")
    except FileNotFoundError:
        return gettext.NullTranslations()
    return gettext.translation("pigmap", localedir=str(folder), languages=[language], fallback=True)
