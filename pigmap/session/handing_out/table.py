"""A table that is handed out: columns of one kind each, a shape and a short name for every row."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from itertools import repeat
from typing import Literal

from shapely.geometry.base import BaseGeometry

from pigmap.records.frozen import dataclass

Kind = Literal["text", "whole", "number", "truth", "day"]
Cell = str | int | float | bool | date | None


@dataclass(frozen=True, slots=True, eq=False)
class Column:
    """One column; its name carries the unit, what is not there is None."""

    name: str
    kind: Kind
    values: tuple[Cell, ...]

    def __post_init__(self) -> None:
        object.__setattr__(self, "values", tuple(_there(value) for value in self.values))


def _there(value: Cell) -> Cell:
    """Return a value; None for an empty text and for what is not a number, which few formats tell from nothing."""
    if isinstance(value, str):
        return str(value) or None
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value


@dataclass(frozen=True, slots=True, eq=False)
class Handed:
    """Rows of one kind."""

    name: str
    """Of the layer."""
    columns: tuple[Column, ...]
    shapes: tuple[BaseGeometry | None, ...]
    """In grid metres."""
    called: tuple[str, ...]
    """What a map shows beside each shape; the column ``name`` where there is one."""
    begins: str = ""
    """Column with the first day of a row, where it has one."""
    ends: str = ""
    """Column with the day after the last."""

    def __len__(self) -> int:
        return len(self.shapes)

    def column(self, name: str) -> Column | None:
        """Return a column by its name; None where there is no such."""
        return next((each for each in self.columns if each.name == name), None)

    def rows(self) -> Iterator[tuple[str, BaseGeometry | None, tuple[Cell, ...]]]:
        """Yield what each row is called, its shape and its values."""
        values: Iterable[tuple[Cell, ...]]
        values = zip(*(each.values for each in self.columns), strict=True) if self.columns else repeat((), len(self))
        return iter(zip(self.called, self.shapes, values, strict=True))


def text_of(value: Cell) -> str:
    """Return a value as files of text hold it: days as YYYY-MM-DD, whole numbers without a point."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    return str(value)


def column(name: str, kind: Kind, values: Sequence[Cell]) -> Column:
    """Return a column from any sequence of values."""
    return Column(name, kind, tuple(values))
