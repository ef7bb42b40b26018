"""The state of the ground as a table: rest, rooting, stocking and when it is ready."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from numpy.typing import NDArray

from pigmap.ground.listed import Listed
from pigmap.session.handing_out.table import Cell, Column, Handed, Kind, column

_KINDS: dict[str, Kind] = {"M": "day", "f": "number", "i": "whole", "u": "whole", "b": "truth", "O": "text"}
_SHARES = ("rooting", "cover", "unknown")
"""Columns that are shares, 0 to 1, which their names say."""


def ground_of(listed: Listed) -> Handed:
    """Return a list of the ground as a table."""
    columns = tuple(_column(name, values) for name, values in listed.columns.items())
    names = next((each.values for each in columns if each.name == "paddock"), columns[0].values)
    return Handed("ground", columns, tuple(listed.shapes.tolist()), tuple(str(name) for name in names))


def _column(name: str, values: NDArray[Any]) -> Column:
    return column(f"{name}_share" if name in _SHARES else name, _KINDS[values.dtype.kind], list(_cells(values)))


def _cells(values: NDArray[Any]) -> Iterator[Cell]:
    for value in values.tolist():
        yield value if isinstance(value, str | int | float) or value is None or hasattr(value, "isoformat") else None
