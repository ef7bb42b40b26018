"""The command ``sheet``: the printable field map."""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path

from pigmap.cli.dates import day
from pigmap.cli.opening import add_farm, open_farm
from pigmap.cli.printing import say
from pigmap.drawing.on_day import OnDay, Shown, on_day
from pigmap.drawing.output import Output
from pigmap.drawing.page import PAPERS, PaperName, Report, SheetRequest
from pigmap.drawing.surroundings import fields_on
from pigmap.drawing.words import render
from pigmap.errors import SheetError, UsageError
from pigmap.plugins import Registry
from pigmap.records import Farm, Field
from pigmap.session import Session
from pigmap.session.images import images_of, tile_reader
from pigmap.session.known_slopes import known_slopes
from pigmap.session.printed_ground import printed_states
from pigmap.units import System

TINT = "rest-and-rooting"


class SheetCommand:
    """Prints one field, or the whole farm, at an exact scale to PDF, SVG or PNG."""

    api = 1
    name = "sheet"
    summary = "prints the field map at an exact scale, as PDF, SVG or PNG"

    def options(self, parser: argparse.ArgumentParser) -> None:
        """Declare the farm, the day, the field, paper and scale, and the file."""
        add_farm(parser)
        parser.add_argument("--on", metavar="DATE", type=day, help="the day; today if not given")
        chosen = parser.add_mutually_exclusive_group()
        chosen.add_argument("--field", metavar="NAME", help="which field; the one of the next move if not given")
        chosen.add_argument("--whole", action="store_true", help="the whole farm on one sheet")
        parser.add_argument("--paper", type=paper, default="A4", help=f"{', '.join(PAPERS)}; A4 if not given")
        parser.add_argument("--scale", metavar="1:N|fit", type=scale, help="fit if not given")
        parser.add_argument(
            "-o", "--output", metavar="OUT", type=Path, required=True, help="ends in .pdf, .svg or .png"
        )

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        """Write the sheet."""
        output = _output(given.output, registry)
        with open_farm(given, registry) as session:
            request = _request(given, session, registry)
            report: Report = registry.load("reports", "field-map")
            fields = fields_on(session.farm, request.day)
            wanted = [field.uid for field in fields if request.field_uid in (None, field.uid)]
            states = printed_states(session, wanted, request.day, request.today)
            page = report.make(session.farm, states, request)
            output.write(page, given.output, images=tile_reader(session))
            for trouble in images_of(session).troubles():
                sys.stderr.write(f"{render(trouble)}\n")
        say(str(given.output))
        return 0


def paper(typed: str) -> PaperName:
    """Return the paper that was typed.

    Raises
    ------
    UsageError
        If it is none that we print on.
    """
    for name in PAPERS:
        if name.casefold() == typed.casefold():
            return name
    raise UsageError(
        "There is no paper {typed} here.", remedy="Choose one of: {papers}.", typed=typed, papers=", ".join(PAPERS)
    )


_SCALE = re.compile(r"(?:1:)?(\d{1,6})")


def scale(typed: str) -> int | None:
    """Return the scale that was typed as ``1:N``, None for ``fit``.

    Raises
    ------
    UsageError
        If it cannot be read, or is not between 1:100 and 1:100000.
    """
    if typed == "fit":
        return None
    found = _SCALE.fullmatch(typed)
    if found is None or not 100 <= int(found.group(1)) <= 100_000:
        raise UsageError(
            "{typed} is not a scale to print at.",
            remedy="Give 1:100 to 1:100000, such as 1:1000, or fit for the largest round scale.",
            typed=typed,
        )
    return int(found.group(1))


def _output(path: Path, registry: Registry) -> Output:
    names = sorted(part.name for part in registry.parts("outputs"))
    suffix = path.suffix.lower().lstrip(".")
    if names and suffix not in names:
        raise UsageError(
            "A sheet cannot be written as {file}.",
            remedy="End the name in one of: {suffixes}.",
            file=path.name,
            suffixes=", ".join(f".{name}" for name in names),
        )
    output: Output = registry.load("outputs", suffix)
    return output


def _request(given: argparse.Namespace, session: Session, registry: Registry) -> SheetRequest:
    farm, today = session.farm, date.today()
    on: date = given.on or today
    units: System = "us" if farm.setting("units") == "us" else "metric"
    return SheetRequest(
        day=on,
        field_uid=None if given.whole else _field(session, given.field, on).uid,
        paper=given.paper,
        scale=given.scale,
        printed_at=datetime.now(),
        today=today,
        system=units,
        tint=registry.load("tints", TINT),
        slopes=known_slopes(session),
    )


def _field(session: Session, name: str | None, on: date) -> Field:
    farm = session.farm
    fields = sorted(fields_on(farm, on), key=lambda field: (field.name, field.uid))
    if not fields:
        raise SheetError(
            "{farm} has no field on {day}, so there is nothing to print.",
            remedy="Draw a field in the window, or make a farm from outlines: pigmap new FARM --fields FILE.",
            farm=session.path.name,
            day=on,
        )
    if name is None:
        return _next_move(farm, fields, on, date.today())
    found = next((field for field in fields if field.name.casefold() == name.casefold()), None)
    if found is None:
        raise UsageError(
            "There is no field {name} in {farm} on {day}.",
            remedy="It has: {names}.",
            name=name,
            farm=session.path.name,
            day=on,
            names=", ".join(field.name for field in fields),
        )
    return found


def _next_move(farm: Farm, fields: Sequence[Field], on: date, today: date) -> Field:
    """Return the field of the next move, else one where pigs are, else the first."""
    shown: OnDay = on_day(farm, on, today)
    ahead = [each for each in shown.planned if not each.there]
    found = (_under(each, fields) for each in (*ahead, *shown.running))
    return next((field for field in found if field is not None), fields[0])


def _under(shown: Shown, fields: Sequence[Field]) -> Field | None:
    spot = shown.outline.representative_point()
    return next((field for field in fields if field.outline.intersects(spot)), None)


command = SheetCommand()
