"""The command ``ground``: the state of the ground on a day."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

from pigmap.cli.dates import day
from pigmap.cli.learned import tell_learned
from pigmap.cli.opening import add_farm, open_farm
from pigmap.cli.printing import Row, add_json, print_rows, say
from pigmap.drawing.words import render
from pigmap.errors import EditError, UsageError
from pigmap.ground.listed import FIGURES, By, Listed, listed, outside_all
from pigmap.ground.state import GroundState
from pigmap.ground.written import SUFFIXES, unknown_suffix, write_list, write_raster
from pigmap.plugins import Registry
from pigmap.records import Farm
from pigmap.session import Session
from pigmap.text import Text

_NAMED = 5  # more paddocks than this are counted, not named


class GroundCommand:
    """Writes or prints rest, rooting, cover, load, nitrogen, phosphorus and the ready day of each piece of ground."""

    api = 1
    name = "ground"
    summary = "tells the state of the ground on a day: rest, rooting, cover, load, and when it is ready"

    def options(self, parser: argparse.ArgumentParser) -> None:
        """Declare the farm, the day, the field, the pieces and the file."""
        add_farm(parser)
        parser.add_argument("--on", metavar="DATE", type=day, help="the day; today if not given")
        parser.add_argument("--field", metavar="NAME", help="only this field")
        parser.add_argument("--by", choices=("cell", "paddock", "field"), help="a row for each; paddock if not given")
        parser.add_argument("-o", "--output", metavar="OUT", type=Path, help=f"a file that ends in {_kinds()}")
        parser.add_argument("--learn", action="store_true", help="what daily checks saw against what was computed")
        parser.add_argument("--keep", action="store_true", help="with --learn: compute with what was learned")
        add_json(parser)

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        """Write the file, or print the table if none is named."""
        _check_usage(given)
        with open_farm(given, registry) as session:
            on: date = given.on or date.today()
            if given.learn:
                tell_learned(session, on, keep=given.keep, as_json=given.json)
                return 0
            states = _states(session, given.field, on)
            by: By = given.by or ("cell" if _is_raster(given.output) else "paddock")
            for note in _notes(session.farm, states, on, by, every=given.field is None):
                sys.stderr.write(f"{render(note)}\n")
            if _is_raster(given.output):
                write_raster(given.output, _only(session.farm, states), session.farm.projection)
                rows = None
            else:
                rows = listed(session.farm, states, by)
                if not len(rows):
                    sys.stderr.write(f"{render(_no_row(session.farm, states))}\n")
                if given.output is not None:
                    write_list(given.output, rows, session.farm.projection, on)
        _answer(given, rows)
        return 0


def _kinds() -> str:
    return f"{', '.join(SUFFIXES[:-1])} or {SUFFIXES[-1]}"


def _is_raster(path: Path | None) -> bool:
    return path is not None and path.suffix.lower() == ".tif"


def _check_usage(given: argparse.Namespace) -> None:
    output: Path | None = given.output
    _check_learning(given)
    if output is not None and output.suffix.lower() not in SUFFIXES:
        raise unknown_suffix(output)
    if _is_raster(output) and given.by in ("paddock", "field"):
        raise UsageError(
            "{file} holds every square of the ground, not a row for each {by}.",
            remedy="Leave --by out, or end the name in .csv, .geojson or .gpkg.",
            file=str(output),
            by=given.by,
        )


def _check_learning(given: argparse.Namespace) -> None:
    if given.keep and not given.learn:
        raise UsageError(
            "{option} keeps what was learned, and nothing was asked to be learned.",
            remedy="Add --learn.",
            option="--keep",
        )
    others = {"--field": given.field, "--by": given.by, "-o": given.output}
    named = [option for option, value in others.items() if value is not None]
    if given.learn and named:
        raise UsageError(
            "{option} does not go with --learn, which looks at the daily checks of the whole farm.",
            remedy="Leave it out; --on and --json go with it.",
            option=named[0],
        )


def _states(session: Session, name: str | None, on: date) -> list[GroundState]:
    """Return the ground of the field that is named, or of all, by name."""
    farm = session.farm
    if not farm.fields:
        raise EditError(
            "{farm} has no fields, so there is no ground to tell about.",
            remedy="Draw a field in the window, or make a farm from outlines: pigmap new FARM --fields FILE.",
            farm=session.path.name,
        )
    fields = sorted(farm.fields.values(), key=lambda field: (field.name, field.uid))
    chosen = [field for field in fields if name is None or field.name.casefold() == name.casefold()]
    if not chosen:
        raise UsageError(
            "There is no field {name} in {farm}.",
            remedy="It has: {names}.",
            name=name or "",
            farm=session.path.name,
            names=", ".join(field.name for field in fields),
        )
    states = [session.ground.state(field.uid, on, date.today()) for field in chosen]
    return [state for state in states if state is not None]


def _only(farm: Farm, states: Sequence[GroundState]) -> GroundState:
    if len(states) > 1:
        names = ", ".join(farm.fields[state.ground.field_uid].name for state in states)
        raise UsageError(
            "A raster holds one field; the farm has {count}.",
            remedy="Name one with --field: {names}.",
            count=len(states),
            names=names,
        )
    return states[0]


def _notes(farm: Farm, states: Sequence[GroundState], on: date, by: str, *, every: bool) -> Iterator[Text]:
    """Yield what someone should know who reads the list."""
    first = min((state.ground.first_day for state in states if state.ground.first_day is not None), default=None)
    if first is not None and on < first:
        yield Text(
            "Nothing is recorded there up to {day}: the first pigs came on {first}. What was before is not known; "
            "give a later day after --on to see more.",
            {"day": on.isoformat(), "first": first.isoformat()},
        )
    lost = outside_all(farm, states) if by == "paddock" and every else []
    if lost:
        yield _outside([paddock.name for paddock in lost])


def _no_row(farm: Farm, states: Sequence[GroundState]) -> Text:
    """Return why the list has no row: it has one for each paddock, and there is none."""
    names = sorted(farm.fields[state.ground.field_uid].name for state in states)
    return Text(
        "{names} has no paddock, so there is no row. Give --by field to see its ground.",
        {"names": ", ".join(names[:_NAMED])},
        plural="No field has a paddock, so there is no row. Give --by field to see their ground.",
        count=len(names),
    )


def _outside(names: Sequence[str]) -> Text:
    shown = ", ".join(names[:_NAMED]) + (" and others" if len(names) > _NAMED else "")
    return Text(
        "Paddock {names} lies outside every field and is left out. Draw a field around it, or move it into one.",
        {"names": shown},
        plural="{count} paddocks lie outside every field and are left out: {names}. "
        "Draw a field around them, or move them into one.",
        count=len(names),
    )


def _answer(given: argparse.Namespace, rows: Listed | None) -> None:
    if given.output is not None and not given.json:
        say(str(given.output))
    elif rows is not None:
        names = [name for name in rows.columns if name not in FIGURES]
        print_rows([*names, *FIGURES], _rows(rows), as_json=given.json)


def _rows(rows: Listed) -> Iterator[Row]:
    columns = {name: values.tolist() for name, values in rows.columns.items()}
    for at in range(len(rows)):
        yield {name: _known(values[at]) for name, values in columns.items()}


def _known(value: object) -> str | int | float | date | None:
    if isinstance(value, float):
        return None if value != value else int(value) if value.is_integer() else value
    return value if isinstance(value, str | int | date) else None


command = GroundCommand()
