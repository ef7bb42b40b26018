"""A page of the farm's books as a list for a spreadsheet."""

from __future__ import annotations

from pathlib import Path

from pigmap.planning.farm_books import COLUMNS, BookPage, book_lines, cell_plain
from pigmap.records import Farm
from pigmap.session.list_file import list_text, write_list


def book_text(farm: Farm, page: BookPage, *, group_uid: str | None = None, year: int | None = None) -> str:
    """Return a page as a table, its headings first.

    A cell that begins as a formula would is kept from being one by a mark before it: what was typed stays words.
    """
    lines = book_lines(farm, page, group_uid=group_uid, year=year)
    rows = [[_words(cell_plain(cell)) for cell in line.cells] for line in lines]
    return list_text([column.name for column in COLUMNS[page]], rows)


def _words(cell: str) -> str:
    return f"'{cell}" if cell[:1] in ("=", "+", "@", "\t") else cell


def write_book(farm: Farm, page: BookPage, path: Path, *, group_uid: str | None = None, year: int | None = None) -> int:
    """Write a page as a list, and return how many lines it has.

    Raises
    ------
    StoreError
        If it cannot be written.
    """
    write_list(book_text(farm, page, group_uid=group_uid, year=year), path)
    return len(book_lines(farm, page, group_uid=group_uid, year=year))
