"""The rows of a text file with columns, whatever parts them and whichever letters it is written in."""

from __future__ import annotations

import csv
import io
from pathlib import Path

from pigmap.builtin.formats.vector_files import need_outline_file
from pigmap.errors import OutlineError

MOST_BYTES = 200_000_000
MOST_LETTERS = 20_000_000
"""In one value: outlines as words are long."""
_MARKS = ",;\t|"


def rows_of(path: Path) -> list[list[str]]:
    """Return the rows of a file that are not empty; the first one names the columns.

    Raises
    ------
    OutlineError
        If it is missing, too large, or no table.
    """
    need_outline_file(path)
    lines = list(io.StringIO(_text(path), newline=""))  # other ends of lines are letters of words
    skipped = 1 if lines and lines[0].casefold().startswith("sep=") else 0
    head = lines[skipped] if len(lines) > skipped else ""
    mark = max(_MARKS, key=head.count)
    before = csv.field_size_limit(MOST_LETTERS)
    try:
        rows = [row for row in csv.reader(lines[skipped:], delimiter=mark) if any(cell.strip() for cell in row)]
    except csv.Error as why:
        raise _no_table(path) from why
    finally:
        csv.field_size_limit(before)
    if len(rows) < 2:
        raise _no_table(path)
    return rows


def _text(path: Path) -> str:
    if path.stat().st_size > MOST_BYTES:
        raise OutlineError(
            "{file} has more than {most} MB, too much for a table of one farm.",
            remedy="Cut out the rows of the farm, or give it as a GeoPackage.",
            file=path.name,
            most=MOST_BYTES // 1_000_000,
        )
    raw = path.read_bytes()
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return raw.decode("utf-16", errors="replace")
    if b"\0" in raw:
        raise _no_table(path)
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("cp1252", errors="replace")  # as spreadsheets write it where nothing else is chosen


def _no_table(path: Path) -> OutlineError:
    return OutlineError(
        "{file} is not a table.",
        remedy="Give a text file (CSV): a first row with the names of the columns, then a row for each thing.",
        file=path.name,
    )
