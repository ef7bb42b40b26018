"""The fence round a paddock as one case: its nets from the records, its energizer, and what else hangs on that."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

import shapely

from pigmap.fence.electric.case import Case, LiveNet, case_of, live_net
from pigmap.fence.electric.expected import Expected, expected
from pigmap.fence.electric.fed_by import feeds
from pigmap.fence.extents import Fenced, StandingNet, nets_round, shared_nets
from pigmap.fence.leaning import lines_beside
from pigmap.fence.standing import StandingPaddock, standing_on
from pigmap.geometry.runs import shared_runs
from pigmap.records import AS_PLANNED, Energizer, Farm, NetKind


class PaddockFence(NamedTuple):
    """What is known of the fence of one paddock."""

    energizer: Energizer
    case: Case
    nets: tuple[tuple[NetKind, int], ...]
    """How many nets of each kind stand round it, those it shares included."""
    beside: int
    """Nets of other fences on the same energizer."""

    @property
    def expected(self) -> Expected:
        """What it should read."""
        return expected(self.case)


def fence_of(
    farm: Farm,
    paddock_uid: str,
    ground: shapely.Polygon,
    group_uid: str,
    day: date,
    *,
    today: date = AS_PLANNED,
) -> PaddockFence | None:
    """Return what is known of the fence of a paddock; None where its energizer, its output or its nets are not told.

    Parameters
    ----------
    farm, day, today
        Whose, when, and the day up to which only what is recorded counts.
    paddock_uid, ground, group_uid
        The paddock, its ground as it stands then [grid m], and the group on it.
    """
    energizer = feeds(farm, paddock_uid, group_uid)
    bare = case_of(energizer) if energizer is not None else None
    if energizer is None or bare is None:
        return None
    there = [each for each in standing_on(farm, day, today=today) if each.paddock_uid != paddock_uid]
    others = on_it_too(farm, energizer, group_uid, there)
    own = StandingPaddock(paddock_uid, "", group_uid, ground, None)
    fences = lines_beside(farm, ground, paddock_uid, group_uid)
    beside = [line for each in others for line in lines_beside(farm, each.ground, each.paddock_uid, each.group_uid)]
    every = nets_round(farm, _fenced(farm, [own, *others], day), day, [*fences, *beside])
    nets = shared_nets(ground, every)
    if not nets:
        return None
    rest = [net for net in every if not any(net is each for each in nets)]
    case = bare._replace(
        nets=tuple(live_net(net.kind) for net in _in_order(farm, energizer, ground, nets)),
        ring=not shared_runs(ground, fences),
        beside=_by_paddock(others, rest),
    )
    counted = Counter(net.kind.uid for net in nets)
    return PaddockFence(energizer, case, tuple((farm.net_kinds[uid], n) for uid, n in counted.items()), len(rest))


def on_it_too(
    farm: Farm, energizer: Energizer, group_uid: str, standing: Sequence[StandingPaddock]
) -> list[StandingPaddock]:
    """Return the paddocks of other groups that hang on an energizer, among those that stand."""
    others = [each for each in standing if each.group_uid != group_uid]
    return [each for each in others if feeds(farm, each.paddock_uid, each.group_uid) == energizer]


def nets_beside(farm: Farm, others: Sequence[StandingPaddock], day: date) -> tuple[tuple[LiveNet, ...], ...]:
    """Return the nets round some paddocks, those of each for themselves; a net that two share is one."""
    return _by_paddock(others, nets_round(farm, _fenced(farm, others, day), day))


def _fenced(farm: Farm, standing: Sequence[StandingPaddock], day: date) -> list[Fenced]:
    kinds = [(each, _kind_of(farm, each.paddock_uid, day)) for each in standing]
    return [Fenced(each.ground, kind, each.paddock_uid) for each, kind in kinds if kind is not None]


def _kind_of(farm: Farm, paddock_uid: str, day: date) -> NetKind | None:
    """Return the kind of nets round a paddock: as it was placed, else as is written down, else the farm's only one."""
    paddock = farm.paddocks.get(paddock_uid)
    placed = farm.net_kinds.get((paddock.net_kind_uid or "") if paddock is not None else "")
    if placed is not None:
        return placed
    uses = Counter(
        use.net_kind_uid
        for use in farm.net_uses.values()
        if use.paddock_uid == paddock_uid and use.stands(day) and use.net_kind_uid in farm.net_kinds
    )
    if uses:
        return farm.net_kinds[uses.most_common(1)[0][0]]
    return next(iter(farm.net_kinds.values())) if len(farm.net_kinds) == 1 else None


def _in_order(
    farm: Farm, energizer: Energizer, ground: shapely.Polygon, nets: Sequence[StandingNet]
) -> list[StandingNet]:
    """Return nets in the order in which they stand round some ground, from the one that is nearest the energizer."""
    ring = ground.exterior
    ordered = sorted(nets, key=lambda net: ring.project(net.line.interpolate(0.5, normalized=True)))
    place = farm.places.get(energizer.place_uid or "")
    if place is None:
        return ordered
    first = min(range(len(ordered)), key=lambda at: ordered[at].line.distance(place.point))
    return [*ordered[first:], *ordered[:first]]


def _by_paddock(others: Sequence[StandingPaddock], nets: Sequence[StandingNet]) -> tuple[tuple[LiveNet, ...], ...]:
    rest = list(nets)
    found = []
    for each in others:
        own = shared_nets(each.ground, rest)
        rest = [net for net in rest if not any(net is other for other in own)]
        found.append(tuple(live_net(net.kind) for net in own))
    return tuple(each for each in found if each)
