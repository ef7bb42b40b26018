"""Groups that stand beside each other on some day: their paddocks share a side or lie close."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date

import shapely

from pigmap.records import Farm, Group, Lasting, StayState, lasting_on


def neighbours(
    farm: Farm, today: date, of: Callable[[Group], bool], beside: Callable[[Group], bool], apart_m: float
) -> Iterator[tuple[Lasting, Lasting]]:
    """Yield stays of some groups with those of others beside them on a common day, earliest first.

    Parameters
    ----------
    farm, today
        Where; stays that are over are left out.
    of, beside
        Which groups, and which others.
    apart_m
        Paddocks nearer than that are beside each other [ground m].
    """
    coming = [each for each in lasting_on(farm, today).values() if each.stay.state is not StayState.PAST]
    coming.sort(key=lambda each: (each.first, each.stay.uid))
    others = [each for each in coming if _is(farm, each, beside)]
    near = apart_m / farm.projection.ground_per_grid
    for one in coming:
        if not _is(farm, one, of):
            continue
        for other in others:
            if (
                other.stay.group_uid != one.stay.group_uid
                and one.meets(other.first, other.end)
                and shapely.dwithin(one.stay.ground, other.stay.ground, near)
            ):
                yield one, other


def _is(farm: Farm, each: Lasting, which: Callable[[Group], bool]) -> bool:
    group = farm.groups.get(each.stay.group_uid)
    return group is not None and which(group)


def common_day(one: Lasting, other: Lasting) -> date:
    """Return the first day on which both are there."""
    return max(one.first, other.first)
