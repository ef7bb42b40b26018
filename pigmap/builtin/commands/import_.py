"""The command ``import``: takes in fields, ways, paddocks, groups, stays, weather and more from a file."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

from pigmap.cli.opening import add_farm, open_farm
from pigmap.cli.printing import Row, add_json, print_rows, remark, say
from pigmap.drawing.words import render
from pigmap.errors import UsageError
from pigmap.plugins import Registry
from pigmap.records import Farm
from pigmap.session.taking_in import GUESSES, KINDS, TakeIn, TakenIn, TakenRow, take_in
from pigmap.text import Text

COLUMNS = ("row", "name", "result", "words")
MOST_SHOWN = 200
"""Rows of the table that a person is shown; JSON has them all."""


class ImportCommand:
    """Takes a file in as one edit, which undo takes back; with ``--preview`` it only tells."""

    api = 1
    name = "import"
    summary = "takes in fields, paddocks, ways, groups, stays, daily checks, weather and more from a file"

    def options(self, parser: argparse.ArgumentParser) -> None:
        """Declare the farm, the file, and how to read it."""
        add_farm(parser)
        parser.add_argument("file", metavar="FILE", type=Path, help="a file with outlines or a table")
        parser.add_argument(
            "--as", dest="kind", choices=KINDS, default="", help="what it holds; found out if not given"
        )
        parser.add_argument("--preview", action="store_true", help="tell what would be taken, and change nothing")
        parser.add_argument("--layer", metavar="NAME", default="", help="which layer, where there are several")
        parser.add_argument("--crs", metavar="EPSG:N", default="", help="its coordinate system, if it does not say")
        units = "units of a file of weather, if it does not say"
        parser.add_argument("--units", choices=("metric", "us"), default="", help=units)
        words = "which column tells what, such as name=FLDNAME; may be repeated, and is remembered for such files"
        parser.add_argument("--column", metavar="WHAT=NAME", action="append", default=[], help=words)
        add_json(parser)

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        """Take it in; each row that is not as it was is told. Refused rows make the status 1."""
        columns = dict(_pair(each) for each in given.column)
        with open_farm(given, registry) as session:
            asked = TakeIn(
                file=given.file,
                today=date.today(),
                kind=given.kind,
                layer=given.layer,
                crs=given.crs,
                units=given.units,
                columns=columns,
            )
            taken = _looked(asked, session.farm, registry)
            for note in taken.notes:
                remark(Text("{note} (--as says otherwise)", {"note": note}) if note in GUESSES else note)
            _show(taken, as_json=given.json)
            if taken.changes_anything and not given.preview:
                session.do(taken.edit).result()
        if not given.json:
            say(taken.summary)
            say(_ending(taken, preview=given.preview))
        return 1 if taken.count("refused") else 0


def _looked(asked: TakeIn, farm: Farm, registry: Registry) -> TakenIn:
    """Return what becomes of the file; a refusal that an option answers names it."""
    try:
        return take_in(asked, farm, registry)
    except UsageError as why:
        remedy = Text("{remedy} (Options: --as, --layer, --column WHAT=NAME.)", {"remedy": why.remedy})
        raise UsageError(why.message, remedy=remedy) from why


def _pair(told: str) -> tuple[str, str]:
    what, mark, column = told.partition("=")
    if not (mark and what.strip() and column.strip()):
        raise UsageError("{told} does not say which column tells what.", remedy="Give it as name=FLDNAME.", told=told)
    return what.strip(), column.strip()


def _show(taken: TakenIn, *, as_json: bool) -> None:
    """Print all rows as JSON; else those that a person should look at, and the others as long as they are few."""
    rows: Sequence[TakenRow] = taken.rows
    if not as_json:
        if len(rows) > MOST_SHOWN:
            rows = [row for row in rows if row.words or row.result in ("mended", "refused")]
        rows = rows[:MOST_SHOWN]
    if rows or as_json:
        print_rows(COLUMNS, _rows(rows), as_json=as_json)
    if not as_json and len(rows) < len(taken.rows):
        more = len(taken.rows) - len(rows)
        say(Text("And {count} rows more.", {"count": more}))


def _rows(rows: Sequence[TakenRow]) -> Iterator[Row]:
    for row in rows:
        said = " ".join(render(words) for words in row.words)
        yield {"row": row.row, "name": " ".join(row.name.split()), "result": row.result, "words": said}


def _ending(taken: TakenIn, *, preview: bool) -> Text:
    if not taken.changes_anything:
        return Text("Nothing is changed.")
    if preview:
        return Text("Nothing is changed yet: this was a preview.")
    return Text("It is one step, which undo takes back.")


command = ImportCommand()
