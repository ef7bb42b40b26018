"""Write a list for a spreadsheet; the file is complete or not there."""

from __future__ import annotations

import csv
import io
import os
from collections.abc import Iterable, Sequence
from pathlib import Path

from pigmap.errors import StoreError


def list_text(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a table as text, its headings first."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(columns)
    writer.writerows(rows)
    return out.getvalue()


def write_list(text: str, path: Path) -> None:
    """Write a list.

    Raises
    ------
    StoreError
        If it cannot be written.
    """
    part = path.with_name(f".{path.stem}.{os.getpid()}.csv")
    try:
        part.write_text(text, encoding="utf-8-sig", newline="")  # with its mark spreadsheets know it
        part.replace(path)
    except OSError as error:
        raise StoreError(
            "{file} cannot be written: {why}.",
            remedy="Look whether the folder {folder} is there, may be written to and has room.",
            file=path.name,
            why=(error.strerror or "no reason given").rstrip("."),
            folder=str(path.parent),
        ) from error
    finally:
        part.unlink(missing_ok=True)
