"""Which paddocks stand on a day: those of the stays of that day, and those a group has yet to leave."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import shapely

from pigmap.records import AS_PLANNED, Farm, Stay, StayState, lasting_on
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
