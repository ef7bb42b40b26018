"""The rule that no more nets stand on a day than the farm owns in good order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import date

from shapely.geometry.base import BaseGeometry

from pigmap.fence.count import nets_for
from pigmap.fence.stock import sound_nets
from pigmap.geometry.runs import open_runs
from pigmap.planning.names import group_called
from pigmap.planning.rule import Breach
from pigmap.records import Farm, Lasting, NetKind, Stay, StayState, WayKind, lasting_on
from pigmap.text import Text


class NetsEnough:
    """Counts the nets of each kind that stand in the evening of each day, running stays and plans together.

    A side of a permanent fence takes no net, and one that two paddocks share takes its nets once. Stays that are over
    are left out: what stood did stand.
    """

    api = 1
    name = "nets-enough"
    title = Text("No more nets stand than the farm owns in good order")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield the first day of each stretch of days on which a kind falls short."""
        stays = [each for each in lasting_on(farm, today).values() if _counts(farm, each, today)]
        for kind in farm.net_kinds.values():
            yield from _short(farm, kind, stays, today)


def _counts(farm: Farm, each: Lasting, today: date) -> bool:
    over = each.end is not None and each.end <= today
    return each.stay.state is not StayState.PAST and not over and _kind(farm, each.stay) is not None


def _kind(farm: Farm, stay: Stay) -> str | None:
    paddock = farm.paddocks.get(stay.paddock_uid)
    return paddock.net_kind_uid if paddock is not None else None


def _short(farm: Farm, kind: NetKind, stays: list[Lasting], today: date) -> Iterator[Breach]:
    fences = [way.line for way in farm.ways.values() if way.kind is WayKind.PERMANENT_FENCE]
    days = sorted({today, *(max(day, today) for each in stays for day in (each.first, each.end) if day is not None)})
    before = 0
    for day in days:
        counted = _nets(farm, [each.stay for each in stays if each.covers(day)], kind, fences, day)
        wanted, owned = sum(counted.values()), sound_nets(farm, kind, day)
        if wanted - owned > max(before, 0):
            there = [each.stay for each in stays if counted.get(each.stay.uid)]
            yield _breach(farm, kind, there, day, wanted, owned)
        before = wanted - owned


def _nets(
    farm: Farm, there: Iterable[Stay], kind: NetKind, fences: Iterable[BaseGeometry], day: date
) -> dict[str, int]:
    """Return the nets of a kind round each stay of one evening; a side that two of them share counts once.

    Where it is written down which nets stand, those count; else the runs of the ground.
    """
    counted: dict[str, int] = {}
    closed = [*fences]
    for stay in sorted(there, key=lambda stay: (stay.in_on, stay.uid)):
        uses = [use for use in farm.net_uses.values() if use.paddock_uid == stay.paddock_uid and use.stands(day)]
        if uses:
            counted[stay.uid] = sum(use.net_kind_uid == kind.uid for use in uses)
        elif _kind(farm, stay) == kind.uid:
            counted[stay.uid] = nets_for(open_runs(stay.ground, closed, farm.projection.ground_per_grid), kind)
        closed.append(stay.ground)
    return counted


def _breach(farm: Farm, kind: NetKind, there: list[Stay], day: date, need: int, owned: int) -> Breach:
    newest = max(there, key=lambda stay: (stay.in_on, stay.uid))
    counts = Counter(str(group_called(farm, stay.group_uid)) for stay in there)
    words = Text(
        "{need} of the {kind} stand on {day}, for {groups}; the farm owns {owned} in good order.",
        {"need": need, "kind": kind.name, "day": day, "groups": ", ".join(sorted(counts)), "owned": owned},
    )
    planned = newest.state is StayState.PLANNED
    if planned:
        remedy = Text(
            "Plan a smaller paddock or one that uses a standing fence, or mend or buy {short}.", {"short": need - owned}
        )
    else:
        remedy = Text("Count the nets again, or say which kind stands there.")
    return Breach("stays", newest.uid, words, remedy, "plan" if planned else "fact", day)


rule = NetsEnough()
