"""From which day to which pigs were, are and are expected on the ground of each stay: one rule for all who ask.

What happened stands. A running stay goes on until its end is recorded, or until a later stay of its group is recorded
as begun; its planned day out, and stays that were planned and never began, end nothing. Nobody knows the days after
today: there the plan is followed, so a running stay is expected to end on its day out, and a group whose day out has
passed is expected to go where it is planned to go next, tomorrow at the earliest.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from itertools import zip_longest
from types import MappingProxyType
from typing import NamedTuple

from pigmap.records.farm import Farm
from pigmap.records.stay import Stay, StayState

_DAY = timedelta(days=1)

AS_PLANNED = date.min
"""A day before all others: seen from there nothing has failed to begin or to end, and all goes as it is planned."""


class Lasting(NamedTuple):
    """A stay as it really lies in time."""

    stay: Stay
    first: date
    end: date | None
    """First day that is not part of it; None where no end is in sight."""

    def covers(self, day: date) -> bool:
        """Whether the pigs are on its ground on a day."""
        return self.first <= day and (self.end is None or day < self.end)

    def meets(self, first: date, end: date | None) -> bool:
        """Whether some day of it lies between a first day and the day after the last."""
        return (end is None or self.first < end) and (self.end is None or first < self.end)


def lasting(stays: Iterable[Stay], today: date, closed_on: date | None = None) -> list[Lasting]:
    """Return the stays of one group as they really lie in time; one that lasts no day is left out.

    Parameters
    ----------
    stays
        All stays of the group.
    today
        The day up to which only what is recorded counts.
    closed_on
        The day from which nobody is left in the group, if it has one.

    Examples
    --------
    >>> lasting([], date(2026, 5, 1))
    []
    """
    tomorrow = today + _DAY
    ordered = sorted(stays, key=_order)
    recorded = [stay for stay in ordered if stay.state is not StayState.PLANNED]
    facts = [Lasting(stay, stay.in_on, _known_end(stay, recorded, today)) for stay in recorded]
    until = max((each.end or max(tomorrow, each.first + _DAY) for each in facts), default=tomorrow)
    plan = list(_plan([stay for stay in ordered if stay.state is StayState.PLANNED], max(tomorrow, until)))
    next_place = plan[0].first if plan else None
    facts = [each if each.end is not None else each._replace(end=next_place) for each in facts]
    found = (_closed(each, closed_on) for each in (*facts, *plan))
    return [each for each in found if each.end is None or each.first < each.end]


def _order(stay: Stay) -> tuple[date, str]:
    return stay.in_on, stay.uid


def _known_end(stay: Stay, recorded: Sequence[Stay], today: date) -> date | None:
    """Return the end of a recorded stay; None where it has passed, or none is set, and the pigs are still there."""
    if stay.state is StayState.PAST:
        return stay.out_on
    ends = [other.in_on for other in recorded if _follows(other, stay)]
    if stay.out_on is not None and stay.out_on >= today:
        ends.append(max(stay.out_on, today + _DAY))
    return min(ends, default=None)


def _follows(other: Stay, stay: Stay) -> bool:
    """Whether a recorded stay began after another one of the group; of two that run from one day the later named."""
    if other.in_on == stay.in_on:
        return other.state is StayState.RUNNING and other.uid > stay.uid
    return other.in_on > stay.in_on


def _plan(planned: Sequence[Stay], earliest: date) -> Iterator[Lasting]:
    """Yield what is planned, from the earliest day on which it can be; the next one ends the one before."""
    for stay, coming in zip_longest(planned, planned[1:]):
        first = max(stay.in_on, earliest)
        ends = (stay.out_on, coming.in_on if coming is not None else None)
        end = min((day for day in ends if day is not None), default=None)
        if end is None or first < end:
            yield Lasting(stay, first, end)


def _closed(each: Lasting, closed_on: date | None) -> Lasting:
    if closed_on is None or each.stay.state is StayState.PAST or (each.end is not None and each.end <= closed_on):
        return each
    return each._replace(end=closed_on)


_last: tuple[Farm, date, Mapping[str, Lasting]] | None = None


def lasting_on(farm: Farm, today: date = AS_PLANNED) -> Mapping[str, Lasting]:
    """Return every stay of a farm as it really lies in time, by its uid; one that lasts no day is left out.

    What was asked for last is kept: all that is shown of a farm on a day asks for the same.
    """
    global _last
    kept = _last
    if kept is None or kept[0] is not farm or kept[1] != today:
        kept = _last = farm, today, MappingProxyType(_of_farm(farm, today))
    return kept[2]


_of_groups: dict[str, tuple[tuple[list[Stay], date, date | None], list[Lasting]]] = {}
"""What was found last for the stays of each group: a change of one group leaves the others as they are."""


def _of_farm(farm: Farm, today: date) -> dict[str, Lasting]:
    global _of_groups
    by_group: dict[str, list[Stay]] = {}
    for stay in farm.stays.values():
        by_group.setdefault(stay.group_uid, []).append(stay)
    found: dict[str, Lasting] = {}
    kept, now = _of_groups, {}
    for uid, stays in by_group.items():
        group = farm.groups.get(uid)
        asked = stays, today, group.closed_on if group is not None else None
        known = kept.get(uid)
        if known is None or known[0] != asked:
            known = asked, lasting(*asked)
        now[uid] = known
        for each in known[1]:
            found[each.stay.uid] = each
    _of_groups = now  # as a whole: another thread may ask meanwhile
    return found
