"""Who has which nets on a day, and what the records of the stock do not agree on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import date
from itertools import combinations
from typing import NamedTuple

import shapely

from pigmap.fence.standing import nets_of_each, nets_standing, standing_on
from pigmap.fence.stock import sound_nets
from pigmap.geometry.sides import stands_along
from pigmap.records import AS_PLANNED, Farm, Net, NetKind, NetUse
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


def holdings(farm: Farm, day: date, today: date = AS_PLANNED) -> tuple[Holding, ...]:
    """Return who has which nets on a day; up to today also where nets were left standing and nobody is.

    A net that two paddocks share is with the one that stood first.
    """
    standing = standing_on(farm, day, today=today)
    kinds = kinds_in_order(farm)
    counts = [nets_of_each(farm, standing, kind, day) for kind in kinds]
    found = []
    for at, paddock in enumerate(standing):
        nets = tuple((kind, each[at]) for kind, each in zip(kinds, counts, strict=True) if each[at])
        group = farm.groups.get(paddock.group_uid)
        found.append(Holding(paddock.paddock_uid, paddock.name, group.name if group is not None else "", nets))
    if day > today:  # nobody knows yet what a move to come will leave standing
        return tuple(found)
    grounds = [paddock.ground for paddock in standing]
    return (*found, *_left_alone(farm, day, {each.paddock_uid for each in standing}, grounds))


def _left_alone(farm: Farm, day: date, with_pigs: set[str], grounds: Iterable[shapely.Polygon]) -> Iterator[Holding]:
    """Yield the nets that are recorded to stand where no pigs are, nor beside where some are."""
    counted: dict[str, Counter[str]] = {}
    for use in farm.net_uses.values():
        alone = use.stands(day) and use.paddock_uid not in with_pigs
        if alone and not any(stands_along(use.run, ground) for ground in grounds):
            counted.setdefault(use.paddock_uid, Counter())[use.net_kind_uid] += 1
    for uid, counts in counted.items():
        paddock = farm.paddocks.get(uid)
        nets = tuple((kind, counts[kind.uid]) for kind in kinds_in_order(farm) if counts[kind.uid])
        yield Holding(uid, paddock.name if paddock is not None else "", "", nets)


def stock_flags(farm: Farm, day: date, today: date = AS_PLANNED) -> tuple[Text, ...]:
    """Return what does not agree in the stock on a day, each with what to do; all of it stands as it was recorded."""
    return (*_too_many_stand(farm, day, today), *_one_number(farm, day), *_two_places(farm, day))


def _too_many_stand(farm: Farm, day: date, today: date) -> Iterator[Text]:
    standing = standing_on(farm, day, today=today)
    for kind in kinds_in_order(farm):
        stand, sound = nets_standing(farm, standing, kind, day), sound_nets(farm, kind, day)
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
