"""Which nets stand on a day: those round the stays of that day, and those a group has yet to leave."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

import shapely

from pigmap.fence.leaning import lines_beside
from pigmap.fence.told import ToldFence, nets_of_runs, told_sides
from pigmap.geometry.runs import open_runs
from pigmap.geometry.sides import FLUSH_M, stands_along
from pigmap.records import AS_PLANNED, Farm, NetKind, Stay, StayState, lasting_on
from pigmap.records.frozen import dataclass


@dataclass(frozen=True, slots=True, eq=False)
class StandingPaddock:
    """A paddock whose nets stand."""

    paddock_uid: str
    name: str
    group_uid: str
    ground: shapely.Polygon
    net_kind_uid: str | None


def standing_on(
    farm: Farm, day: date, moving_uid: str | None = None, *, today: date = AS_PLANNED
) -> tuple[StandingPaddock, ...]:
    """Return the paddocks that stand, or will stand, on a day, those that stand longest first.

    Parameters
    ----------
    farm, day
        Whose, and when.
    moving_uid
        A group that is to move on that day: the paddock it comes from still stands then, and what is planned for
        the group from that day on does not stand yet.
    today
        The day up to which only what is recorded counts.
    """
    there = [
        each for each in lasting_on(farm, today).values() if each.stay.group_uid != moving_uid and each.covers(day)
    ]
    left = left_behind(farm, day, moving_uid, today=today) if moving_uid is not None else None
    stays = [each.stay for each in sorted(there, key=lambda each: (each.first, each.stay.uid))]
    found: dict[str, StandingPaddock] = {}
    for stay in [*([left] if left is not None else []), *stays]:
        paddock = farm.paddocks.get(stay.paddock_uid)
        if paddock is not None:
            found.setdefault(
                paddock.uid,
                StandingPaddock(paddock.uid, paddock.name, stay.group_uid, stay.ground, paddock.net_kind_uid),
            )
    for fenced in _fenced_already(farm, day, moving_uid):
        found.setdefault(fenced.paddock_uid, fenced)
    return tuple(found.values())


def _fenced_already(farm: Farm, day: date, moving_uid: str | None) -> Iterator[StandingPaddock]:
    """Yield ground whose nets are written down to stand though its pigs are yet to come: they did not cross."""
    written = {use.paddock_uid for use in farm.net_uses.values() if use.stands(day)}
    for stay in farm.stays.values() if written else ():
        late = stay.state is StayState.PLANNED and stay.in_on <= day and stay.group_uid != moving_uid
        if late and stay.paddock_uid in written:
            paddock = farm.paddocks.get(stay.paddock_uid)
            if paddock is not None:
                yield StandingPaddock(paddock.uid, paddock.name, stay.group_uid, stay.ground, paddock.net_kind_uid)


def left_behind(farm: Farm, day: date, group_uid: str, *, today: date = AS_PLANNED) -> Stay | None:
    """Return the stay that a group comes from when it moves on a day, None where it comes from elsewhere.

    Its last stay before that day counts, unless it is past and ended earlier: then its nets are taken up.
    """
    before = [
        each for each in lasting_on(farm, today).values() if each.stay.group_uid == group_uid and each.first < day
    ]
    last = max(before, key=lambda each: (each.first, each.stay.uid), default=None)
    if last is None:
        return None
    over = last.stay.state is StayState.PAST and last.end is not None and last.end < day
    return None if over else last.stay


def nets_standing(farm: Farm, standing: Iterable[StandingPaddock], kind: NetKind, day: date) -> int:
    """Return how many nets of a kind stand round paddocks; a side that two share counts once.

    Where it is recorded which nets stand round a paddock, those count, with those that were left standing along it
    for the paddock before; else they follow from its runs. A paddock of walked corners is taken to stand in nets of
    the kind that is asked for.
    """
    return sum(nets_of_each(farm, standing, kind, day))


def nets_of_each(farm: Farm, standing: Iterable[StandingPaddock], kind: NetKind, day: date) -> list[int]:
    """Return how many nets of a kind stand round each of some paddocks; those of a shared side are the first's."""
    counts: list[int] = []
    earlier: list[shapely.Polygon] = []
    standing = list(standing)
    there = [use for use in farm.net_uses.values() if use.stands(day)]
    uids = {paddock.paddock_uid for paddock in standing}
    left = [use for use in there if use.paddock_uid not in uids]
    for paddock in standing:
        count = 0
        recorded = [use for use in there if use.paddock_uid == paddock.paddock_uid]
        if recorded:
            beside = [use for use in left if stands_along(use.run, paddock.ground)]
            left = [use for use in left if use not in beside]
            count = sum(use.net_kind_uid == kind.uid for use in (*recorded, *beside))
        elif paddock.net_kind_uid in (None, kind.uid) or told_sides(farm, farm.paddocks.get(paddock.paddock_uid)):
            near = [ground for ground in earlier if shapely.dwithin(ground, paddock.ground, FLUSH_M)]
            count = _by_its_sides(farm, paddock, kind, near)
        counts.append(count)
        earlier.append(paddock.ground)
    return counts


def _by_its_sides(farm: Farm, paddock: StandingPaddock, kind: NetKind, near: Sequence[shapely.Polygon]) -> int:
    """Return how many nets of a kind a paddock takes beside ground that is closed already."""
    per_grid = farm.projection.ground_per_grid
    leant = lines_beside(farm, paddock.ground, paddock.paddock_uid, paddock.group_uid)
    runs = open_runs(paddock.ground, [*near, *leant], per_grid)
    fence = ToldFence.of(paddock.ground, told_sides(farm, farm.paddocks.get(paddock.paddock_uid)), per_grid)
    if fence is None and paddock.net_kind_uid not in (None, kind.uid):
        return 0
    return sum(each.nets for each in nets_of_runs(runs, kind, fence) if each.kind.uid == kind.uid)
