"""What commands print: sentences, tables, and the same tables as JSON."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any

from pigmap.drawing.words import render
from pigmap.errors import PigmapError
from pigmap.text import Text, plain

Cell = str | int | float | bool | date | Text | None
Row = Mapping[str, Cell]


def say(words: str | Text) -> None:
    """Print one line on standard output."""
    sys.stdout.write(f"{_in_words(words)}\n")


def remark(words: str | Text) -> None:
    """Print one line on standard error: what a person should know, beside a table for other programs."""
    sys.stderr.write(f"{_in_words(words)}\n")


def complain(error: PigmapError) -> None:
    """Print an error on standard error: what is wrong, then what to do."""
    sys.stderr.write(f"{render(error.message)} {render(error.remedy)}".rstrip() + "\n")


def add_json(parser: argparse.ArgumentParser) -> None:
    """Declare the option that every command with a table takes."""
    parser.add_argument("--json", action="store_true", help="print the table as JSON, for other programs")


def print_rows(columns: Sequence[str], rows: Iterable[Row], *, as_json: bool = False) -> None:
    """Print rows as a table with these columns, or as JSON: a list of objects.

    A value that is not there is empty in the table and null in JSON.
    """
    kept = list(rows)
    if as_json:
        sys.stdout.write(json.dumps([_packed(row, columns) for row in kept], ensure_ascii=False, indent=2) + "\n")
    else:
        sys.stdout.write(table(columns, kept))


def table(columns: Sequence[str], rows: Sequence[Row]) -> str:
    """Return rows in columns as wide as their longest value; numbers stand at the right.

    Examples
    --------
    >>> print(table(["name", "pigs"], [{"name": "Dry sows", "pigs": 8}]), end="")
    name      pigs
    Dry sows     8
    """
    cells = [[_in_words(row.get(column)) for column in columns] for row in rows]
    right = [_all_numbers(row.get(column) for row in rows) for column in columns]
    widths = [max(map(len, each)) for each in zip(columns, *cells, strict=True)]
    return "".join(_line(line, widths, right) for line in [list(columns), *cells])


def _line(cells: Sequence[str], widths: Sequence[int], right: Sequence[bool]) -> str:
    aligned = [
        cell.rjust(width) if at_right else cell.ljust(width)
        for cell, width, at_right in zip(cells, widths, right, strict=True)
    ]
    return "  ".join(aligned).rstrip() + "\n"


def _all_numbers(values: Iterable[Cell]) -> bool:
    kept = [value for value in values if value is not None]
    return bool(kept) and all(isinstance(value, int | float) and not isinstance(value, bool) for value in kept)


def _in_words(value: Cell) -> str:
    if value is None:
        return ""
    if isinstance(value, Text):
        return render(value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value.isoformat() if isinstance(value, date) else str(value)


def _packed(row: Row, columns: Sequence[str]) -> dict[str, Any]:
    return {column: _json_value(row.get(column)) for column in columns}


def _json_value(value: Cell) -> Any:
    if isinstance(value, Text):
        return plain(value)
    return value.isoformat() if isinstance(value, date) else value
