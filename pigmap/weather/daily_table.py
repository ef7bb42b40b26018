"""A text file as a table: the row of names, wherever it stands, and the rows below it with their numbers."""

from __future__ import annotations

import csv
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NamedTuple

from pigmap.errors import RecordError

MOST_BEFORE = 60
"""Lines in which the row of names is looked for; station files have a page of remarks before it. Own choice."""


class Row(NamedTuple):
    """One line of the table."""

    number: int
    """Counted from 1, the row of names and empty ones not counted."""
    cells: tuple[str, ...]


class Table(NamedTuple):
    """The names of the columns and the rows below them."""

    names: tuple[str, ...]
    rows: tuple[Row, ...]


def read_table(path: Path, is_head: Callable[[Sequence[str]], bool]) -> Table:
    """Return the table of a text file: cells parted by commas, semicolons, tabs or spaces.

    Parameters
    ----------
    is_head
        Whether the cells of a line are the names of columns; where none are, the first line with cells is.

    Raises
    ------
    RecordError
        If there is no such file, or it is no table.
    """
    lines = _text(path).splitlines()
    rows = [line for line in lines if line.strip()]
    before = [_cells(line, _mark(line)) for line in rows[:MOST_BEFORE]]
    at = next((at for at, cells in enumerate(before) if is_head(cells)), None)
    if at is None:  # any words are parted by spaces, but names that nobody knows by commas
        marked = (at for at, line in enumerate(rows[:MOST_BEFORE]) if _mark(line) != " ")
        at = next(marked, None)
    if at is None:
        raise no_table(path)
    if len(rows) < at + 2 or len(before[at]) < 2:
        raise no_table(path)
    mark = _mark(rows[at])
    below = (cells for line in rows[at + 1 :] if any(cells := tuple(_cells(line, mark))))
    return Table(tuple(before[at]), tuple(Row(number, cells) for number, cells in enumerate(below, start=1)))


def no_table(path: Path) -> RecordError:
    """Return the refusal of a file that is no table."""
    return RecordError(
        "{file} is not a table of daily weather.",
        remedy="Give a text file with commas: a first row with date, rain, tmin and tmax, then one row a day.",
        file=path.name,
    )


def _text(path: Path) -> str:
    if not path.is_file():
        raise RecordError(
            "The weather file {file} is not in {folder}.",
            remedy="Look for the file, and name it where it is.",
            file=path.name,
            folder=str(path.resolve().parent),
        )
    try:
        raw = path.read_bytes()
    except OSError as why:
        raise no_table(path) from why
    if b"\0" in raw[:4096]:
        raise no_table(path)
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("cp1252", errors="replace")  # a degree sign of an older program


def _mark(line: str) -> str:
    """Return what parts the cells of a line: the commonest of three marks, else spaces."""
    mark = max(";\t,", key=line.count)
    return mark if mark in line else " "


def _cells(line: str, mark: str) -> list[str]:
    if mark == " ":
        return line.split()
    return [cell.strip() for cell in next(csv.reader([line], delimiter=mark), [])]
