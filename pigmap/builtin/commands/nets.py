"""The command ``nets``: the stock, what stands where, what is spare, and what the plan needs."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from pigmap.cli.dates import day
from pigmap.cli.opening import add_farm, open_farm
from pigmap.cli.printing import Row, add_json, print_rows, remark, say
from pigmap.drawing.words import day_words, render
from pigmap.fence.books import Books, NetThere, books_of
from pigmap.fence.holdings import kinds_in_order, stock_flags
from pigmap.fence.need_words import need_sentences
from pigmap.fence.needs import Moment, Need, Tally, need, own_sets, tally
from pigmap.plugins import Registry
from pigmap.records import Farm, NetKind
from pigmap.text import Quantity, Text, Value
from pigmap.units import System

STOCK = ("kind", "tape", "owned", "standing", "spare", "damaged")
WHERE = ("paddock", "pigs", "nets", "numbers")


class NetsCommand:
    """Tells how many nets there are, where each stands on a day, and whether they are enough for the plan."""

    api = 1
    name = "nets"
    summary = "tells the stock of nets, what stands where on a day, what is spare, and what the plan needs"

    def options(self, parser: argparse.ArgumentParser) -> None:
        """Declare the farm and the day."""
        add_farm(parser)
        parser.add_argument("--on", metavar="DATE", type=day, help="the day; today if not given")
        add_json(parser)

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        """Print the tables, or the same as JSON."""
        with open_farm(given, registry) as session:
            farm, today = session.farm, date.today()
        on: date = given.on or today
        kinds = kinds_in_order(farm)
        if not kinds:
            (remark if given.json else say)(
                Text("No nets are entered yet. Open the window, take Place, and say how many there are and how long.")
            )
        books = books_of(farm, today)
        if given.json:
            rows = [_packed(books, kind, on) for kind in kinds]
            sys.stdout.write(json.dumps(rows, ensure_ascii=False, indent=2) + "\n")
        elif kinds:
            system: System = "us" if farm.setting("units") == "us" else "metric"
            _tell(books, kinds, on, system)
        return 0


def _tell(books: Books, kinds: Sequence[NetKind], on: date, system: System) -> None:
    say(Text("Nets on {day}", {"day": day_words(on, "full")}))
    say("")
    tallies = {kind.uid: tally(books, kind, on) for kind in kinds}
    lacks = any(each.lacking for each in tallies.values())
    columns = (*STOCK, "lacking") if lacks else STOCK
    print_rows(columns, [_stock(kind, tallies[kind.uid]) for kind in kinds])
    there = [*_where(books, kinds, on)]
    if there:
        say("")
        rows = [_place(books.farm, each, kinds, system) for each in there]
        print_rows(WHERE if any(row["numbers"] for row in rows) else WHERE[:-1], rows)
    if on >= books.today:
        _tell_plan(books, kinds, on, system)
    for flag in stock_flags(books.farm, on, books.today):
        say("")
        say(render(flag, system=system))


def _tell_plan(books: Books, kinds: Sequence[NetKind], on: date, system: System) -> None:
    """Tell what the plan needs, which goes on from today whatever day is asked for; of a day before it is left out."""
    needs = [(kind, found) for kind in kinds if (found := need(books, kind)) is not None]
    if needs and on > books.today:
        say("")
        say(Text("The plan from today, {day}, on", {"day": day_words(books.today, "full")}))
    for kind, found in needs:
        say("")
        say(render(Text("{kind}:", {"kind": _called(kind)}), system=system))
        for sentence in (*need_sentences(books, found), *_sets(books, kind)):
            say(f"  {render(sentence, system=system)}")


def _stock(kind: NetKind, found: Tally) -> Row:
    return {"kind": kind.name, "tape": kind.tape, **found._asdict()}


def _where(books: Books, kinds: Sequence[NetKind], on: date) -> Iterator[tuple[str, str, list[NetThere]]]:
    """Yield each paddock with the group on it, empty where nobody is, and the nets set for it."""
    found: dict[tuple[str, str], list[NetThere]] = {}
    for each in books.standing(on):
        found.setdefault((each.paddock_uid, each.group_uid), []).append(each)
    for (paddock, group), nets in sorted(found.items(), key=lambda each: (not each[0][1], _name(books.farm, each[0]))):
        yield paddock, group, nets


def _name(farm: Farm, place: tuple[str, str]) -> str:
    paddock = farm.paddocks.get(place[0])
    return paddock.name if paddock is not None else ""


def _place(
    farm: Farm, place: tuple[str, str, list[NetThere]], kinds: Sequence[NetKind], system: System = "metric"
) -> Row:
    paddock_uid, group_uid, nets = place
    group = farm.groups.get(group_uid)
    counted = [(kind, sum(each.kind.uid == kind.uid for each in nets)) for kind in kinds]
    return {
        "paddock": _name(farm, (paddock_uid, "")),
        "pigs": group.name if group is not None else Text("nobody, left standing"),
        "nets": ", ".join(render(_nets(kind, count), system=system) for kind, count in counted if count),
        "numbers": ", ".join(sorted(each.net.number for each in nets if each.net is not None and each.net.number)),
    }


def _nets(kind: NetKind, count: int) -> Text:
    values: dict[str, Value] = {"count": count, "length": Quantity(kind.length_m, "m", 0)}
    if kind.tape:
        return Text("{count} x {length} {tape}", {**values, "tape": kind.tape})
    return Text("{count} x {length}", values)


def _called(kind: NetKind) -> Value:
    return Text("{kind}, {tape}", {"kind": kind.name, "tape": kind.tape}) if kind.tape else kind.name


def _sets(books: Books, kind: NetKind) -> Iterator[Text]:
    """Yield what one spare set for all groups saves against one for each."""
    groups, shared, each = own_sets(books, kind)
    more = each - shared
    if groups < 2 or not more:
        return
    values: dict[str, Value] = {"groups": groups, "set": shared, "more": more}
    if kind.price is None:
        yield Text("One spare set of {set} for {groups} groups; a set for each would take {more} nets more.", values)
    else:
        cost = f"{kind.price * more:,.0f}"
        yield Text(
            "One spare set of {set} for {groups} groups; a set for each would take {more} nets more, {cost} "
            "at your price.",
            {**values, "cost": cost},
        )


def _packed(books: Books, kind: NetKind, on: date) -> Mapping[str, Any]:
    there = [(paddock, group, [net for net in nets if net.kind.uid == kind.uid]) for paddock, group, nets in
             _where(books, [kind], on)]  # fmt: skip
    places = [{**_place(books.farm, each, [kind]), "nets": len(each[2])} for each in there if each[2]]
    found = need(books, kind)
    return {
        "kind": kind.name,
        "tape": kind.tape,
        "length_m": kind.length_m,
        **tally(books, kind, on)._asdict(),
        "where": [{**each, "pigs": each["pigs"] if isinstance(each["pigs"], str) else None} for each in places],
        **_need_values(books.farm, found),
    }


def _need_values(farm: Farm, found: Need | None) -> Mapping[str, Any]:
    return {
        "peak": found.peak.nets if found is not None else 0,
        "peak_on": _day(found.peak if found is not None else None),
        "peak_move": _move(farm, found.peak if found is not None else None),
        "short_on": _day(found.short if found is not None else None),
        "short_by": found.short_by if found is not None else 0,
        "short_move": _move(farm, found.short if found is not None else None),
        "then_short_on": _day(found.later if found is not None else None),
        "then_short_by": found.later_by if found is not None else 0,
        "lacking_at_most": found.lacking if found is not None else 0,
        "with_one_more_short_on": _day(found.with_one_more if found is not None else None),
        "spare_set": found.spare_set if found is not None else 0,
        "with_a_set_more_short_on": _day(found.with_a_set_more if found is not None else None),
    }


def _day(moment: Moment | None) -> str | None:
    return moment.day.isoformat() if moment is not None else None


def _move(farm: Farm, moment: Moment | None) -> Mapping[str, str] | None:
    if moment is None or moment.move is None:
        return None
    group = farm.groups.get(moment.move.new.group_uid)
    return {
        "group": group.name if group is not None else "",
        "to": _name(farm, (moment.move.new.paddock_uid, "")),
    }


command = NetsCommand()
