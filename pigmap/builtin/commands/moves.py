"""The command ``moves``: the moves of a day in order, with their nets, and the cards to carry."""

from __future__ import annotations

import argparse
from datetime import date, datetime
from pathlib import Path

from pigmap.builtin.commands.sheet import paper
from pigmap.cli.dates import day
from pigmap.cli.opening import add_farm, open_farm
from pigmap.cli.printing import Row, add_json, print_rows, remark, say
from pigmap.drawing.page import PAPERS, SheetRequest
from pigmap.drawing.printed import write_sheets
from pigmap.drawing.words import day_words, render
from pigmap.errors import UsageError
from pigmap.fence.behind import stays_because
from pigmap.fence.moving import move_time
from pigmap.fence.of_move import Nets, Staying
from pigmap.fence.walking import MOST_A_TRIP, nets_a_trip
from pigmap.planning.coming import ruling
from pigmap.planning.moves_of_day import Move, moves_of_day, next_move_day
from pigmap.planning.walk_of_move import walk_of
from pigmap.plugins import Registry
from pigmap.records import Farm
from pigmap.session.images import tile_reader
from pigmap.session.known_slopes import known_slopes
from pigmap.text import Quantity, Text
from pigmap.units import System

COLUMNS: tuple[str, ...] = (
    "move",
    "group",
    "from",
    "to",
    "set",
    "leave",
    "stays",
    "take_up",
    "minutes_alone",
    "minutes_two",
    "trips",
    "trips_two",
    "walk_m",
    "coming",
    "way_m",
)


class MovesCommand:
    """Lists the moves of a day, or prints their cards."""

    api = 1
    name = "moves"
    summary = "lists the moves of a day in order, with their nets; makes the move cards"

    def options(self, parser: argparse.ArgumentParser) -> None:
        """Declare the farm, the day, and the file of cards."""
        add_farm(parser)
        parser.add_argument("--on", metavar="DATE", type=day, help="the day; today if not given")
        parser.add_argument("--cards", metavar="OUT", type=_pdf, help="the cards as a file that ends in .pdf")
        parser.add_argument("--paper", type=paper, default="A4", help=f"{', '.join(PAPERS)}; A4 if not given")
        parser.add_argument("--nets-a-trip", metavar="N", type=int, help="nets that one person carries at a time")
        add_json(parser)

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        """List the moves, or write their cards."""
        with open_farm(given, registry) as session:
            farm, today = session.farm, date.today()
            on: date = given.on or today
            a_trip = _a_trip(given.nets_a_trip, farm)
            moves = moves_of_day(farm, on, today)
            system: System = "us" if farm.setting("units") == "us" else "metric"
            if moves and given.cards is not None:
                printed = datetime.now()  # the farm's local time, as a person reads it
                request = SheetRequest(
                    day=on,
                    paper=given.paper,
                    printed_at=printed,
                    today=today,
                    system=system,
                    slopes=known_slopes(session),
                )
                cards, pdf = registry.load("reports", "move-cards"), registry.load("outputs", "pdf")
                write_sheets(cards, pdf, farm, given.cards, request, images=tile_reader(session))
        if given.json:
            if not moves:
                remark(_no_move(farm, on, today))
            metric = [_row(farm, number, move, on, "metric", a_trip) for number, move in enumerate(moves, 1)]
            print_rows(COLUMNS, metric, as_json=True)
        elif not moves:
            say(_no_move(farm, on, today))
        elif given.cards is not None:
            say(str(given.cards))
        else:
            rows = [_row(farm, number, move, on, system, a_trip) for number, move in enumerate(moves, 1)]
            columns = COLUMNS
            if system == "us":
                columns = tuple(each.removesuffix("_m") + "_ft" if each.endswith("_m") else each for each in COLUMNS)
            print_rows(columns, rows)
        return 0


def _pdf(typed: str) -> Path:
    if Path(typed).suffix.lower() != ".pdf":
        raise UsageError(
            "Move cards cannot be written as {file}.", remedy="End the name in .pdf.", file=Path(typed).name
        )
    return Path(typed)


def _no_move(farm: Farm, on: date, today: date) -> Text:
    coming = next_move_day(farm, on, today)
    values = {"day": day_words(on, "full")}
    if coming is None:
        return Text("No group moves on {day}, and none is planned after it. Plan a stay in the window.", values)
    return Text("No group moves on {day}. The next move is on {next}.", {**values, "next": day_words(coming, "full")})


def _a_trip(given: int | None, farm: Farm) -> int:
    if given is None:
        return nets_a_trip(farm)
    if not 1 <= given <= MOST_A_TRIP:
        raise UsageError(
            "{given} nets a trip cannot be.", remedy="Give 1 to {most}.", given=str(given), most=str(MOST_A_TRIP)
        )
    return given


def _row(farm: Farm, number: int, move: Move, on: date, system: System, a_trip: int) -> Row:
    way, lasts = move.drive_m, move_time(farm)
    walk = walk_of(farm, move, a_trip)
    return {
        "move": number,
        "group": move.group.name,
        "from": move.old.name if move.old is not None else None,
        "to": move.new.name,
        "set": _words(move.nets.to_set, system),
        "leave": _words(move.nets.to_leave, system),
        "stays": "; ".join(render(_stays(farm, each), system=system) for each in move.nets.stays),
        "take_up": _words(move.nets.to_take_up, system),
        "minutes_alone": round(lasts.alone),
        "minutes_two": round(lasts.two),
        "trips": walk.trips if walk is not None else None,
        "trips_two": walk.trips_two if walk is not None else None,
        "walk_m": round(walk.walk_m) if walk is not None else None,
        "walk_ft": round(walk.walk_m / 0.3048) if walk is not None else None,
        "coming": "; ".join(render(each.words, system=system) for each in ruling(farm, move.group.uid, on)) or None,
        "way_m": None if way is None else round(way),
        "way_ft": None if way is None else round(way / 0.3048),
    }


def _stays(farm: Farm, staying: Staying) -> Text:
    return Text("{nets}, {because}", {"nets": _of(staying.nets), "because": stays_because(farm, staying)})


def _words(nets: tuple[Nets, ...], system: System) -> str:
    return ", ".join(render(_of(each), system=system) for each in nets)


def _of(nets: Nets) -> Text:
    if nets.kind is None:
        return Text("{length} of net", {"length": Quantity(nets.length_m, "m", 0)})
    length = Quantity(nets.kind.length_m, "m", 0)
    if nets.kind.tape:
        return Text("{count} x {length} {tape}", {"count": nets.count, "length": length, "tape": nets.kind.tape})
    return Text("{count} x {length}", {"count": nets.count, "length": length})


command = MovesCommand()
