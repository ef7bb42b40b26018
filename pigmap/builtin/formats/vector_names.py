"""What the rows of a file of outlines are called."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

COLUMNS = (
    "name",
    "field name",
    "field_name",
    "fieldname",
    "field",
    "label",
    "title",
    "paddock",
    "parcel",
    "plot",
    "feldname",
    "schlagname",
    "bezeichnung",
    "nom",
    "nombre",
    "nome",
    "naam",
    "navn",
    "namn",
    "nimi",
    "id",
    "number",
)
"""Columns that name a field, the best first. Own choice."""

_LONGEST = 60


def names_of(columns: Sequence[str], values: Sequence[Sequence[Any]], rows: int) -> list[str]:
    """Return a name for each row, from a column that names fields; else 'Field 1' and on. No two are the same.

    Examples
    --------
    >>> names_of(["Name"], [["Long Field", None, "Long Field", "Barn"]], 4)
    ['Long Field', 'Field 2', 'Long Field 2', 'Barn']
    """
    told = _best(columns, values)
    names: list[str] = []
    taken: set[str] = set()
    for row in range(rows):
        wanted = _word(told[row]) if told is not None else ""
        name = wanted or f"Field {row + 1}"
        number = 2
        while name.casefold() in taken:
            name = f"{wanted or 'Field'} {number}"
            number += 1
        taken.add(name.casefold())
        names.append(name)
    return names


def _best(columns: Sequence[str], values: Sequence[Sequence[Any]]) -> Sequence[Any] | None:
    """Return the first naming column whose words mostly differ."""
    by_name = {column.strip().casefold(): told for column, told in zip(columns, values, strict=True)}
    for wanted in COLUMNS:
        words = [word for value in by_name.get(wanted, ()) if (word := _word(value))]
        if 2 * len(set(words)) > len(words):
            return by_name[wanted]
    return None


def _word(value: Any) -> str:
    if value is None or value != value:  # only not-a-number differs from itself
        return ""
    if isinstance(value, float) and float(value).is_integer():
        value = int(value)
    word = " ".join(str(value).split())
    return word if len(word) <= _LONGEST else f"{word[: _LONGEST - 1]}…"
