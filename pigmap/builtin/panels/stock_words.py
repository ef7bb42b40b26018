"""What the plate on nets says of a day: each kind, who has which, and which are damaged."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from pigmap.drawing.words import day_words
from pigmap.fence.books import books_of
from pigmap.fence.holdings import Holding, holdings, kinds_in_order, net_called
from pigmap.fence.need_words import remedy
from pigmap.fence.needs import filled_in, need
from pigmap.qt.nets import tallies
from pigmap.qt.stage import Stage
from pigmap.records import Farm, Net, NetKind
from pigmap.records.damage import damages, is_damaged
from pigmap.text import Quantity, Text


def kind_words(kind: NetKind) -> Text:
    """Return what a kind is called, with its tape."""
    if not kind.tape or kind.tape.casefold() in kind.name.casefold():
        return Text("{kind}", {"kind": kind.name})
    return Text("{kind}, {tape} tape", {"kind": kind.name, "tape": kind.tape})


def length_of(kind: NetKind) -> Quantity:
    """Return the length of its nets, with digits only where it has some."""
    return Quantity(kind.length_m, "m", 0 if abs(kind.length_m - round(kind.length_m)) < 0.005 else 2)


def day_line(stage: Stage) -> str:
    """Return for which day the figures hold."""
    day = day_words(stage.day, "full", language=stage.language)
    if stage.day == stage.today:
        return stage.say("Today, {day}", day=day)
    return stage.say("{day}, as planned" if stage.day > stage.today else "{day}, as recorded", day=day)


def count_line(stage: Stage, kind: NetKind) -> str:
    """Return how many of a kind are owned, stand, are spare and are damaged on the day that is shown."""
    found = tallies(stage.session.farm, stage.day, stage.today)[kind.uid]
    parts = [
        stage.say("{count} owned", count=found.owned),
        stage.say("{count} standing", count=found.standing),
        stage.say("{count} spare", count=found.spare),
    ]
    if found.damaged:
        parts.append(stage.say("{count} damaged", count=found.damaged))
    return ", ".join(parts)


class Lasts(NamedTuple):
    """Whether the nets of a kind are enough for what is planned."""

    words: str
    is_short: bool


def lasts_line(stage: Stage, kind: NetKind) -> Lasts:
    """Return until when the nets of a kind are enough, or when they are not and what mends it; empty without a plan.

    That too few are there today already is told with what does not agree in the stock; a later day is told all the
    same.
    """
    books = books_of(stage.session.farm, stage.today)
    found = need(books, kind)
    if found is None or not books.moves:
        return Lasts("", False)
    short = found.short
    if short is None:
        last = day_words(max(move.day for move in books.moves), "short", language=stage.language)
        words = stage.say("Enough for all that is planned, to {day}", day=last)
        moves = filled_in(books, kind)
        if moves:
            day = day_words(moves[0].day, "short", language=stage.language)
            fill = Text(
                "with nets of another length at {count} move, on {day}",
                {"day": day},
                plural="with nets of another length at {count} moves, first on {day}",
                count=len(moves),
            )
            words = f"{words}, {stage.words(fill)}"
        return Lasts(words, False)
    count = found.short_by
    if short.move is None:
        if found.later is None:
            return Lasts("", True)
        short, count = found.later, found.later_by
    day = day_words(short.day, "short", language=stage.language)
    mend = remedy(stage.session.farm, found)
    return Lasts(stage.say("Short by {count} on {day}. {remedy}", count=count, day=day, remedy=mend), True)


def holding_lines(stage: Stage) -> list[str]:
    """Return who has which nets on the day that is shown."""
    found = holdings(stage.session.farm, stage.day, stage.today)
    return [_holding_line(stage, each) for each in found if each.nets]


def _holding_line(stage: Stage, each: Holding) -> str:
    nets = ", ".join(
        stage.say("{count} \u00d7 {length}", count=count, length=length_of(kind)) for kind, count in each.nets
    )
    if not each.group:
        return stage.say("Left standing, {paddock}: {nets}", paddock=each.paddock, nets=nets)
    return stage.say("{group}, {paddock}: {nets}", group=each.group, paddock=each.paddock, nets=nets)


def damaged_nets(stage: Stage) -> list[Net]:
    """Return the damaged nets that are owned on the day that is shown, the longest kinds first."""
    return [net for net in nets_in_order(stage) if is_damaged(stage.session.farm, net, stage.day)]


def nets_in_order(stage: Stage) -> list[Net]:
    """Return the nets that are owned on the day that is shown: by kind, then by number, those without one last."""
    farm = stage.session.farm
    owned = [net for net in farm.nets.values() if net.owned_on(stage.day)]
    order = {kind.uid: at for at, kind in enumerate(kinds_in_order(farm))}
    return sorted(owned, key=lambda net: (order.get(net.net_kind_uid, len(order)), *by_number(net)))


def by_number(net: Net) -> tuple[bool, int, str, str]:
    """Return what nets are put in order by: numbers as numbers."""
    return not net.number, int(net.number) if net.number.isdecimal() else 0, net.number, net.uid


def damaged_line(stage: Stage, net: Net) -> str:
    """Return which net is damaged on the day that is shown, since when and until when, and with what."""
    farm = stage.session.farm
    name = stage.words(Text("{net}", {"net": net_called(farm, net)}))
    name = name[:1].upper() + name[1:]
    damage = next(each for each in damages(farm)[net.uid] if each.lasts(stage.day))
    if damage.first is not None:
        since = day_words(damage.first, "short", language=stage.language)
        name = stage.say("{net}, since {day}", net=name, day=since)
    if damage.mended_on is not None:
        until = day_words(damage.mended_on, "short", language=stage.language)
        return stage.say("{net}, mended on {day}", net=name, day=until)
    return f"{name}: {net.note}" if net.note else name


def waits_for_repair(stage: Stage, net: Net) -> bool:
    """Whether a net that is damaged on the day that is shown still is: nobody has told since that it is mended."""
    return any(each.lasts(stage.day) and each.mended_on is None for each in damages(stage.session.farm)[net.uid])


def uses_numbers(farm: Farm) -> bool:
    """Whether the farm has given any net a number."""
    return any(net.number for net in farm.nets.values())


def numbers_line(stage: Stage, kind: NetKind) -> str:
    """Return the numbers of a kind: 'numbers 1 to 4, 7'; empty where it has none."""
    found = [net.number for net in nets_in_order(stage) if net.net_kind_uid == kind.uid and net.number]
    return stage.say("Numbers {numbers}", numbers=", ".join(_runs(stage, found))) if found else ""


def _runs(stage: Stage, numbers: Iterable[str]) -> list[str]:
    runs: list[list[str]] = []
    for number in numbers:
        follows = runs and number.isdecimal() and runs[-1][-1].isdecimal() and int(number) == int(runs[-1][-1]) + 1
        if follows:
            runs[-1].append(number)
        else:
            runs.append([number])
    said = []
    for run in runs:
        said += run if len(run) < 3 else [stage.say("{first} to {last}", first=run[0], last=run[-1])]
    return said
