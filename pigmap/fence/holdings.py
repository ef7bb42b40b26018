"""Who has which nets on a day, and what the records of the stock do not agree on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date
from itertools import combinations
from typing import NamedTuple

from pigmap.fence.books import NetThere, books_of
from pigmap.fence.stock import sound_nets
from pigmap.records import Farm, Net, NetKind, NetUse
from pigmap.text import Text, Value


class Holding(NamedTuple):
    """Nets that stand round one paddock."""

    paddock_uid: str
    paddock: str
    group: str
    """Who is in it; empty where nobody is and the nets were left standing."""
    nets: tuple[tuple[NetKind, int], ...]
    """How many of each kind, the longest first."""


def kinds_in_order(farm: Farm) -> list[NetKind]:
    """Return the kinds of nets, the longest first."""
    return sorted(farm.net_kinds.values(), key=lambda kind: (-kind.length_mm, kind.name, kind.uid))


def holdings(farm: Farm, day: date, today: date) -> tuple[Holding, ...]:
    """Return who has which nets in the evening of a day, those that stand longest first; then what nobody has.

    A net that two paddocks share is with the one that stood first.
    """
    found: dict[tuple[str, str], list[NetThere]] = {}
    for each in books_of(farm, today).standing(day):
        found.setdefault((each.paddock_uid, each.group_uid), []).append(each)
    order = sorted(found, key=lambda place: (not place[1], min(each.since for each in found[place]), place))
    return tuple(_holding(farm, place, found[place]) for place in order)


def _holding(farm: Farm, place: tuple[str, str], nets: Sequence[NetThere]) -> Holding:
    paddock, group = farm.paddocks.get(place[0]), farm.groups.get(place[1])
    counted = Counter(each.kind.uid for each in nets)
    return Holding(
        place[0],
        paddock.name if paddock is not None else "",
        group.name if group is not None else "",
        tuple((kind, counted[kind.uid]) for kind in kinds_in_order(farm) if counted[kind.uid]),
    )


def stock_flags(farm: Farm, day: date, today: date) -> tuple[Text, ...]:
    """Return what does not agree in the stock on a day, each with what to do; all of it stands as it was recorded."""
    return (*_too_many_stand(farm, day, today), *_one_number(farm, day), *_two_places(farm, day))


def _too_many_stand(farm: Farm, day: date, today: date) -> Iterator[Text]:
    counts = books_of(farm, today).counts(day)
    for kind in kinds_in_order(farm):
        stand, sound = counts.get(kind.uid, 0), sound_nets(farm, kind, day)
        if stand > sound:
            values: dict[str, Value] = {"stand": stand, "kind": kind.name, "sound": sound}
            yield Text(
                "{stand} of the {kind} stand, and {sound} are owned in good order. "
                "Add those that are missing, or put right where they stand.",
                values,
            )


def _one_number(farm: Farm, day: date) -> Iterator[Text]:
    owned = (net for net in farm.nets.values() if net.number and net.owned_on(day))
    counted = Counter((net.net_kind_uid, net.number) for net in owned)
    for (kind_uid, number), count in counted.items():
        kind = farm.net_kinds.get(kind_uid)
        if count > 1:
            values: dict[str, Value] = {
                "count": count,
                "kind": kind.name if kind is not None else "",
                "number": number,
            }
            yield Text("{count} of the {kind} have the number {number}. Give one of them another.", values)


def _two_places(farm: Farm, day: date) -> Iterator[Text]:
    """Yield the nets that are recorded to stand in two places at once."""
    there: dict[str, list[NetUse]] = {}
    for use in farm.net_uses.values():
        if use.net_uid is not None and use.stands(day):
            there.setdefault(use.net_uid, []).append(use)
    for uid, uses in there.items():
        apart = next((pair for pair in combinations(uses, 2) if pair[0].run.distance(pair[1].run) > 0.0), None)
        net = farm.nets.get(uid)
        if apart is not None and net is not None:
            names = [_paddock(farm, use) for use in apart]
            yield Text(
                "{net} stands at {one} and at {other}. Say which net stands in one of the two places.",
                {"net": net_called(farm, net), "one": names[0], "other": names[1]},
            )


def net_called(farm: Farm, net: Net) -> Text:
    """Return what a net is called: by its number, with its kind where another kind has that number too."""
    kind = farm.net_kinds.get(net.net_kind_uid)
    name = kind.name if kind is not None else ""
    if not net.number:
        return Text("a net of the {kind}", {"kind": name})
    others = (other for other in farm.nets.values() if other.net_kind_uid != net.net_kind_uid)
    if any(other.number == net.number for other in others):
        return Text("net {number} of the {kind}", {"number": net.number, "kind": name})
    return Text("net {number}", {"number": net.number})


def _paddock(farm: Farm, use: NetUse) -> str:
    paddock = farm.paddocks.get(use.paddock_uid)
    return paddock.name if paddock is not None else ""
