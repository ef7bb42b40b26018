"""Texts in plain English and SI units, for tracebacks, logs and the command line's last resort."""

from __future__ import annotations

from datetime import date

from pigmap.text.message import Text, Value
from pigmap.text.quantity import Quantity
from pigmap.text.sentence import filled


def plain(text: Text) -> str:
    """Return the English sentence with its values in SI units.

    Examples
    --------
    >>> plain(Text("Keep {distance} off.", {"distance": Quantity(6, "m")}))
    'Keep 6 m off.'
    """
    pattern = text.id if text.count in (None, 1) or not text.plural else text.plural
    values = {name: _plain_value(value) for name, value in text.values.items()}
    if text.count is not None:
        values.setdefault("count", str(text.count))
    return filled(text, pattern, values)


def _plain_value(value: Value) -> str:
    if isinstance(value, Text):
        return plain(value)
    if isinstance(value, Quantity):
        number = f"{value.value:.{value.digits}f}" if value.digits is not None else f"{value.value:.6g}"
        return number if value.unit == "1" else f"{number} {value.unit}"
    if isinstance(value, date):
        return value.isoformat()
    return str(value)
