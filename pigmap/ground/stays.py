"""Stays as they really lie in time: from a day to a day, with what they lay on the ground each day."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.animals.tables import DROPPED
from pigmap.animals.weight import Growth, growth_of
from pigmap.frozen import dataclass
from pigmap.records import Farm, Group, GroupEvent, Stay, StayState

_OPEN_MEAN_DAYS = 7  # a stay with no day out weighs what its first week weighs


@dataclass(frozen=True, slots=True, eq=False)
class Stays:
    """Stays in the order of their first day; days are ordinals (`date.toordinal`)."""

    rows: tuple[Stay, ...]
    begin: NDArray[np.int64]
    """First day, (n,)."""
    end: NDArray[np.int64]
    """First day that is not part of it, (n,); `open_end` where no day out is in sight."""
    daily: NDArray[np.float64]
    """Live weight [kg/m²], nitrogen [g/m²] and phosphorus [g/m²] of each day of it, (n, 3)."""


def span(stay: Stay, following: Stay | None, begin: int, open_end: int) -> tuple[int, int]:
    """Return the first day of a stay and the first day after it.

    A stay with no day out lasts until the group's next stay begins.
    """
    if stay.out_on is not None:
        return begin, stay.out_on.toordinal()
    return begin, following.in_on.toordinal() if following is not None else open_end


def spans(stays: Iterable[Stay], open_end: int) -> list[tuple[Stay, int, int]]:
    """Return the stays of one group with first day and first day after, without those of no day.

    What was planned begins only once the last recorded stay is over: facts come before plans.
    """
    ordered = sorted(stays, key=lambda stay: (stay.in_on, stay.state is StayState.PLANNED, stay.uid))
    known = (stay.out_on.toordinal() for stay in ordered if stay.state is not StayState.PLANNED and stay.out_on)
    recorded_until = max(known, default=0)
    found = []
    for stay, following in zip(ordered, [*ordered[1:], None], strict=True):
        begin = stay.in_on.toordinal()
        if stay.state is StayState.PLANNED:
            begin = max(begin, recorded_until)
        begin, end = span(stay, following, begin, open_end)
        if begin < end:
            found.append((stay, begin, end))
    return found


def stays_of(farm: Farm, open_end: int) -> Stays:
    """Return every stay of a farm that lasts at least a day."""
    by_group: dict[str, list[Stay]] = {}
    for stay in farm.stays.values():
        by_group.setdefault(stay.group_uid, []).append(stay)
    growths = _growths(farm, by_group)
    found: list[tuple[Stay, int, int]] = []
    daily: list[NDArray[np.float64]] = []
    for group_uid, rows in by_group.items():
        lasting = spans(rows, open_end)
        found += lasting
        daily.append(_animals(farm.groups.get(group_uid), growths.get(group_uid), lasting, open_end))
    order = sorted(range(len(found)), key=lambda at: (found[at][1], found[at][0].uid))
    chosen = [found[at] for at in order]
    per_animal = np.concatenate(daily)[order] if daily else np.empty((0, 3))
    return Stays(
        tuple(stay for stay, _, _ in chosen),
        np.array([begin for _, begin, _ in chosen], dtype=np.int64),
        np.array([end for _, _, end in chosen], dtype=np.int64),
        per_animal / _ground_m2(farm, [stay for stay, _, _ in chosen])[:, None],
    )


def _ground_m2(farm: Farm, stays: Sequence[Stay]) -> NDArray[np.float64]:
    """Return the ground of each stay [m²], at least a thousandth."""
    grounds = np.array([stay.ground for stay in stays], dtype=np.object_)
    return np.maximum(shapely.area(grounds) * farm.projection.ground_per_grid**2, 1e-3)


def _growths(farm: Farm, groups: Iterable[str]) -> Mapping[str, Growth]:
    events: dict[str, list[GroupEvent]] = {uid: [] for uid in groups}
    for event in farm.group_events.values():
        if event.group_uid in events:
            events[event.group_uid].append(event)
    return {uid: growth_of(farm.groups[uid], rows) for uid, rows in events.items() if uid in farm.groups}


def _animals(
    group: Group | None, growth: Growth | None, lasting: Sequence[tuple[Stay, int, int]], open_end: int
) -> NDArray[np.float64]:
    """Return live weight [kg], nitrogen and phosphorus [g] of a mean day of each stay of one group, (n, 3)."""
    if group is None or growth is None or not lasting:
        return np.zeros((len(lasting), 3))
    begin = np.array([first for _, first, _ in lasting], dtype=np.int64)
    end = np.array([last for _, _, last in lasting], dtype=np.int64)
    end = np.where(end >= open_end, begin + _OPEN_MEAN_DAYS, end)
    days = np.arange(begin.min(), end.max())
    pigs = growth.pigs(days).astype(np.float64)
    dropped = DROPPED[group.pig_class]
    each = np.stack((pigs * growth.mean_kg(days), pigs * dropped.nitrogen_g, pigs * dropped.phosphorus_g), axis=1)
    summed = np.concatenate((np.zeros((1, 3)), np.cumsum(each, axis=0)))
    total: NDArray[np.float64] = summed[end - days[0]] - summed[begin - days[0]]
    return total / (end - begin)[:, None]
