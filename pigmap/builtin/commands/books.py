"""The command ``books``: a page of the farm's books as a table, a list for a spreadsheet, or sheets to print."""

from __future__ import annotations

import argparse
from datetime import date, datetime
from pathlib import Path

from pigmap.builtin.commands.sheet import paper
from pigmap.cli.opening import add_farm, open_farm
from pigmap.cli.printing import Row, add_json, print_rows, remark, say
from pigmap.drawing.page import PAPERS, SheetRequest
from pigmap.drawing.printed import write_sheets
from pigmap.errors import EditError, UsageError
from pigmap.planning.farm_books import COLUMNS, BookLine, BookPage, book_lines
from pigmap.plugins import Registry
from pigmap.records import Farm
from pigmap.session import Session
from pigmap.session.book_list import write_book
from pigmap.session.images import tile_reader
from pigmap.text import Text
from pigmap.units import System

PAGES = tuple(page.value for page in BookPage)


class BooksCommand:
    """Prints a page of the books, or writes it into a file."""

    api = 1
    name = "books"
    summary = "prints a page of the farm's books: medicine, register, litters, slaughter, escapes"

    def options(self, parser: argparse.ArgumentParser) -> None:
        """Declare the farm, the page, what of it, and the file."""
        add_farm(parser)
        parser.add_argument(
            "--page", choices=PAGES, default=PAGES[0], help=f"{', '.join(PAGES)}; the first if not given"
        )
        parser.add_argument("--group", metavar="NAME", help="of one group")
        parser.add_argument("--year", metavar="YEAR", type=int, help="of one year")
        parser.add_argument("-o", "--output", metavar="OUT", type=_file, help="a file that ends in .csv or .pdf")
        parser.add_argument("--paper", type=paper, default="A4", help=f"{', '.join(PAPERS)}; A4 if not given")
        add_json(parser)

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        """Print the table, or write the file."""
        page = BookPage(given.page)
        with open_farm(given, registry) as session:
            farm = session.farm
            group_uid = _group(farm, given.group)
            if given.output is not None:
                _write(session, registry, page, group_uid, given)
        if given.output is not None:
            say(str(given.output))
            return 0
        lines = book_lines(farm, page, group_uid=group_uid, year=given.year)
        names = [column.name for column in COLUMNS[page]]
        if lines or given.json:
            print_rows(names, [_row(names, line) for line in lines], as_json=given.json)
        if not lines:
            (remark if given.json else say)(Text("Nothing is written down."))
        return 0


def _file(typed: str) -> Path:
    if Path(typed).suffix.lower() not in (".csv", ".pdf"):
        raise UsageError(
            "Books cannot be written as {file}.", remedy="End the name in .csv or .pdf.", file=Path(typed).name
        )
    return Path(typed)


def _group(farm: Farm, name: str | None) -> str | None:
    if not name:
        return None
    found = next((uid for uid, group in farm.groups.items() if group.name.casefold() == name.casefold()), None)
    if found is None:
        known = ", ".join(group.name for group in farm.groups.values()) or "none"
        raise EditError("No group is called {name}.", remedy="The groups are: {known}.", name=name, known=known)
    return found


def _write(
    session: Session, registry: Registry, page: BookPage, group_uid: str | None, given: argparse.Namespace
) -> None:
    if given.output.suffix.lower() == ".csv":
        write_book(session.farm, page, given.output, group_uid=group_uid, year=given.year)
        return
    today = date.today()
    system: System = "us" if session.farm.setting("units") == "us" else "metric"
    request = SheetRequest(day=today, paper=given.paper, printed_at=datetime.now(), today=today, system=system)
    report, pdf = registry.load("reports", "books"), registry.load("outputs", "pdf")
    of_page = report.of(page, group_uid=group_uid, year=given.year)
    write_sheets(of_page, pdf, session.farm, given.output, request, images=tile_reader(session))


def _row(names: list[str], line: BookLine) -> Row:
    return dict(zip(names, line.cells, strict=True))  # type: ignore[arg-type]


command = BooksCommand()
