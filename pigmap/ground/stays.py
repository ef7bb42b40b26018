"""Stays as they really lie in time: from a day to a day, with what they lay on the ground each day."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.animals.manure import ManureSource, manure_source, nitrogen_g, phosphorus_g
from pigmap.animals.weight import Growth, growth_of
from pigmap.ground.dung import Zone, pieces_in_zones
from pigmap.ground.wear import wear_times
from pigmap.records import AS_PLANNED, Farm, Group, GroupEvent, Lasting, Stay, lasting_on
from pigmap.records.frozen import dataclass

PIECE_DAYS = 7
"""Pigs grow by little in so many days: a longer stay is taken in pieces, each with its own mean day. Own choice."""

_EVEN_DAYS = 512


@dataclass(frozen=True, slots=True, eq=False)
class Stays:
    """Stays in the order of their first day; days are ordinals (`date.toordinal`).

    A stay is of one piece, or of several that follow each other where its pigs change meanwhile. A stay that only goes
    on with the one before it, the same group on the same ground, has no pieces: they are those of the one before.
    """

    rows: tuple[Stay, ...]
    first: NDArray[np.int64]
    """First day of each stay, (n,)."""
    stay: NDArray[np.int64]
    """Stay of each piece, (m,), rising."""
    begin: NDArray[np.int64]
    """First day of each piece, (m,)."""
    end: NDArray[np.int64]
    """First day that is not part of it, (m,); `open_end` where no day out is in sight."""
    daily: NDArray[np.float64]
    """Live weight [kg/m²], nitrogen [g/m²], phosphorus [g/m²] and wear [kg/m²] of each day of it, (m, 4)."""
    zone: NDArray[np.int64]
    """Zone of its ground in which more dung falls while it lasts, (m,); -1 where it is evenly spread."""
    zones: tuple[Zone, ...] = ()

    def in_zones(self, zones: Mapping[str, tuple[Zone, ...]]) -> Stays:
        """Return them with the zones of some stays, by their uids; pieces are cut where the zone becomes another."""
        by_stay = {at: zones[stay.uid] for at, stay in enumerate(self.rows) if stay.uid in zones} if zones else {}
        if not by_stay:
            return self
        piece, begin, end, zone, every = pieces_in_zones(self.stay, self.begin, self.end, by_stay)
        return replace(
            self, stay=self.stay[piece], begin=begin, end=end, daily=self.daily[piece], zone=zone, zones=every
        )


class _OfGroup(NamedTuple):
    """The pieces of the stays of one group, and what they follow from."""

    rests_on: tuple[object, ...]
    cut: NDArray[np.int64]
    """Number of the stay within the group, first day and first day after, of each piece, (n, 3)."""
    brings: NDArray[np.float64]
    """Live weight [kg], nitrogen and phosphorus [g] and wear [kg] of a mean day of each, (n, 4)."""


class StaysOfGroups:
    """Pieces of the stays of each group, kept until anything that they follow from is another."""

    def __init__(self) -> None:
        self._kept: dict[str, _OfGroup] = {}

    def of(
        self, farm: Farm, group_uid: str, its: Sequence[Lasting], events: Sequence[GroupEvent], open_end: int
    ) -> _OfGroup:
        """Return the pieces of a group's stays."""
        group = farm.groups.get(group_uid)
        ends = open_end if any(each.end is None for each in its) else 0
        source = manure_source(farm)
        rests_on = group, ends, source, list(its), list(events)
        kept = self._kept.get(group_uid)
        if kept is None or kept.rests_on != rests_on:
            growth = growth_of(group, events) if group is not None else None
            runs = _runs(its)
            cut = np.array([piece for run in runs for piece in _pieces(*run, growth, open_end)], dtype=np.int64)
            kept = self._kept[group_uid] = _OfGroup(
                rests_on, cut, _animals(group, growth, cut[:, 1], cut[:, 2], source)
            )
        return kept


def stays_of(farm: Farm, open_end: int, today: date = AS_PLANNED, known: StaysOfGroups | None = None) -> Stays:
    """Return every stay of a farm that lasts at least a day; up to `today` only what is recorded counts."""
    known = known if known is not None else StaysOfGroups()
    found = lasting_on(farm, today)
    by_uid = [found[uid] for uid in sorted(found)]
    begins = np.fromiter((each.first.toordinal() for each in by_uid), dtype=np.int64, count=len(by_uid))
    in_time = np.argsort(begins, kind="stable")
    chosen = [by_uid[at] for at in in_time.tolist()]
    rows = tuple(each.stay for each in chosen)
    by_group: dict[str, list[int]] = {}
    for at, each in enumerate(chosen):
        by_group.setdefault(each.stay.group_uid, []).append(at)
    events: dict[str, list[GroupEvent]] = {uid: [] for uid in by_group}
    for event in farm.group_events.values():
        if event.group_uid in events:
            events[event.group_uid].append(event)
    pieces = [np.empty((0, 3), dtype=np.int64)]
    daily = [np.empty((0, 4))]
    for group_uid, its in by_group.items():
        its_pieces = known.of(farm, group_uid, [chosen[at] for at in its], events[group_uid], open_end)
        pieces.append(np.column_stack((np.array(its, dtype=np.int64)[its_pieces.cut[:, 0]], its_pieces.cut[:, 1:])))
        daily.append(its_pieces.brings)
    every = np.concatenate(pieces)
    order = np.lexsort((every[:, 1], every[:, 0]))
    stay = every[order, 0]
    return Stays(
        rows,
        begins[in_time],
        stay,
        every[order, 1],
        every[order, 2],
        np.concatenate(daily)[order] / _ground_m2(farm, rows)[stay][:, None],
        np.full(len(stay), -1, dtype=np.int64),
    )


def _runs(its: Sequence[Lasting]) -> list[tuple[int, Lasting]]:
    """Return stays of one group by their numbers, those that go on on the same ground as one.

    It makes no difference to the ground whether somebody wrote one stay, or two that touch.
    """
    bounds = shapely.bounds(np.array([each.stay.ground for each in its], dtype=np.object_)).tolist()
    runs: list[tuple[int, Lasting]] = []
    ending: dict[date | None, list[int]] = {}
    for at, each in enumerate(its):
        # Bounds are compared before shapes, which takes longer.
        near = (run for run in ending.get(each.first, ()) if bounds[runs[run][0]] == bounds[at])
        run = next((run for run in near if _same_ground(runs[run][1].stay.ground, each.stay.ground)), len(runs))
        if run < len(runs):
            ending[each.first].remove(run)
            runs[run] = runs[run][0], runs[run][1]._replace(end=each.end)
        else:
            runs.append((at, each))
        ending.setdefault(each.end, []).append(run)
    return runs


def _same_ground(one: BaseGeometry, other: BaseGeometry) -> bool:
    return one is other or bool(one.equals(other))


def _pieces(at: int, each: Lasting, growth: Growth | None, open_end: int) -> list[tuple[int, int, int]]:
    """Return the pieces of a stay as its number, their first day and the first day after them.

    Nothing is cut after the last day on which anything is known to change: from there on all days are alike.
    """
    begin = each.first.toordinal()
    end = each.end.toordinal() if each.end is not None else max(open_end, begin + 1)
    until = min(end, growth.last_change) if growth is not None else begin
    if growth is None or end - begin <= PIECE_DAYS or until <= begin:
        return [(at, begin, end)]
    counted = (int(day) for day in growth.count_days if begin < day < end)
    cuts = sorted({*range(begin, until, PIECE_DAYS), until, *counted} - {end})
    return [(at, first, after) for first, after in zip(cuts, [*cuts[1:], end], strict=True)]


def _ground_m2(farm: Farm, stays: Sequence[Stay]) -> NDArray[np.float64]:
    """Return the ground of each stay [m²], at least a thousandth."""
    grounds = np.array([stay.ground for stay in stays], dtype=np.object_)
    return np.maximum(shapely.area(grounds) * farm.projection.ground_per_grid**2, 1e-3)


def _animals(
    group: Group | None,
    growth: Growth | None,
    begin: NDArray[np.int64],
    end: NDArray[np.int64],
    source: ManureSource,
) -> NDArray[np.float64]:
    """Return live weight [kg], nitrogen and phosphorus [g] and wear [kg] of a mean day of each piece, (n, 4)."""
    if group is None or growth is None:
        return np.zeros((len(begin), 4))
    days = np.arange(begin.min() // _EVEN_DAYS * _EVEN_DAYS, end.max())  # sums that one more stay leaves as they are
    pigs = growth.pigs(days).astype(np.float64)
    each_kg = growth.mean_kg(days)
    weight = pigs * each_kg
    nitrogen, phosphorus = nitrogen_g(group, each_kg, source), phosphorus_g(group, each_kg, source)
    laid = (weight, pigs * nitrogen, pigs * phosphorus, weight * wear_times(group))
    each = np.stack(laid, axis=1)
    summed = np.concatenate((np.zeros((1, 4)), np.cumsum(each, axis=0)))
    total: NDArray[np.float64] = summed[end - days[0]] - summed[begin - days[0]]
    return total / (end - begin)[:, None]
