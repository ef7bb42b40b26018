"""How many pigs a group has on a day, and how heavy they are."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.animals.batches import CAME, UNWEIGHED_SD, WENT, Batch, Weighing, batch_of, lots_of
from pigmap.animals.growth import Pace
from pigmap.animals.tables import GROWING_CLASSES, USUAL_KG
from pigmap.records import Farm, Group, GroupEvent, GroupEventKind
from pigmap.records.frozen import dataclass


class Weight(NamedTuple):
    """A group on one day."""

    pigs: int
    mean_kg: float
    total_kg: float
    weighed: bool = True
    """Whether it rests on a weight that was given; else on what such pigs usually weigh."""


@dataclass(frozen=True, slots=True, eq=False)
class Growth:
    """Counts and weights of one group through time; days are ordinals (`date.toordinal`)."""

    count_days: NDArray[np.int64]
    """Days on which the count changes, rising, (n,)."""
    counts: NDArray[np.int64]
    """Pigs from each of these days on, (n,)."""
    weight_days: NDArray[np.int64]
    """Days on which pigs were weighed, rising, (m,); day 0 alone where nobody weighed any."""
    weights: NDArray[np.float64]
    """Mean weight on each of these days [kg], (m,)."""
    batches: tuple[Batch, ...] = ()
    """Lots that were weighed, after each other; none where nobody weighed any."""

    def pigs(self, days: NDArray[np.int64]) -> NDArray[np.int64]:
        """Return the pigs on each day; before the first count as many as after it."""
        return self.counts[np.maximum(np.searchsorted(self.count_days, days, side="right") - 1, 0)]

    def mean_kg(self, days: NDArray[np.int64]) -> NDArray[np.float64]:
        """Return the mean weight on each day [kg].

        Growing pigs go along the curve through every weighing, and on at their pace until the curve ends; sows and
        boars from weighing to weighing in even steps, and level before and after.
        """
        if not self.batches:
            return np.interp(days, self.weight_days, self.weights)
        mean = self.batches[0].at(days)
        for batch in self.batches[1:]:
            mean = np.where(days >= _begin(batch), batch.at(days), mean)
        return mean

    def batch_on(self, day: int) -> Batch | None:
        """Return the lot whose weights count on a day; None where nobody weighed any."""
        begun = [batch for batch in self.batches if _begin(batch) <= day]
        return begun[-1] if begun else next(iter(self.batches), None)

    @property
    def last_change(self) -> int:
        """Day after which neither number nor weight is known to change."""
        knots = self.batches[-1].knot_days[-1] if self.batches else self.weight_days[-1]
        return int(max(self.count_days[-1], np.ceil(knots)))


def _begin(batch: Batch) -> int:
    return batch.first if batch.first is not None else batch.weighed[0].day


def growth_of(group: Group, events: Iterable[GroupEvent]) -> Growth:
    """Return the counts and weights of a group from what happened to it.

    Bought, born and joined add pigs, sold, died and split take them away. Pigs that make up an empty group count as
    weighed where their weight is given. A group that never got pigs by an event has as many as were last weighed.
    """
    ordered = sorted(events, key=lambda event: event.happened_on)
    counted = _counted(ordered)
    if not any(pigs for _, pigs in counted):
        stood = [event.pigs for event in ordered if event.kind is GroupEventKind.WEIGHED and event.pigs]
        counted = [(0, stood[-1] if stood else 0)]
    grows = group.pig_class in GROWING_CLASSES
    lots = [lot for lot in lots_of(ordered) if lot.weighed]
    batches = tuple(batch_of(lot.first, lot.end, lot.weighed, grows=grows) for lot in lots)
    weighed = [each for lot in lots for each in lot.weighed] or [Weighing(0, USUAL_KG[group.pig_class], UNWEIGHED_SD)]
    return Growth(
        np.array([day for day, _ in counted], dtype=np.int64),
        np.array([pigs for _, pigs in counted], dtype=np.int64),
        np.array([each.day for each in weighed], dtype=np.int64),
        np.array([each.kg for each in weighed], dtype=np.float64),
        batches,
    )


def _counted(events: Sequence[GroupEvent]) -> list[tuple[int, int]]:
    """Return the count after each day on which it changed."""
    after: dict[int, int] = {}
    pigs = 0
    for event in events:
        change = (event.pigs or 0) * ((event.kind in CAME) - (event.kind in WENT))
        if change:
            pigs = max(pigs + change, 0)
            after[event.happened_on.toordinal()] = pigs
    return sorted(after.items())


_last: tuple[Mapping[str, GroupEvent], Mapping[str, Group], dict[str, Growth]] | None = None


def growth_in(farm: Farm, group_uid: str) -> Growth:
    """Return the counts and weights of a group of a farm; kept until anything about its groups changes.

    Raises
    ------
    KeyError
        If the farm has no such group.
    """
    global _last
    kept = _last
    if kept is None or kept[0] is not farm.group_events or kept[1] is not farm.groups:
        kept = _last = farm.group_events, farm.groups, {}
    if group_uid not in kept[2]:
        events = [event for event in farm.group_events.values() if event.group_uid == group_uid]
        kept[2][group_uid] = growth_of(farm.groups[group_uid], events)
    return kept[2][group_uid]


def live_weight(farm: Farm, group_uid: str, day: date) -> Weight:
    """Return how many pigs a group has on a day and how heavy they are.

    Raises
    ------
    KeyError
        If the farm has no such group.
    """
    growth = growth_in(farm, group_uid)
    on = np.array([day.toordinal()], dtype=np.int64)
    pigs, mean_kg = int(growth.pigs(on)[0]), float(growth.mean_kg(on)[0])
    return Weight(pigs, mean_kg, pigs * mean_kg, weighed=bool(growth.weight_days[0]))


class Band(NamedTuple):
    """Between what one pig may weigh, in nine of ten cases."""

    least_kg: float
    most_kg: float


def weight_band(farm: Farm, group_uid: str, day: date) -> Band:
    """Return between what a pig of a group may weigh on a day: wider by eye, and the longer ago it was weighed."""
    growth = growth_in(farm, group_uid)
    batch = growth.batch_on(day.toordinal())
    if batch is None:
        usual = float(growth.weights[0])
        return Band(usual * (1 - 1.5 * UNWEIGHED_SD), usual * (1 + 1.5 * UNWEIGHED_SD))
    return Band(*batch.within(day.toordinal()))


def pace_on(farm: Farm, group_uid: str, day: date) -> Pace | None:
    """Return the pace of a group on a day; None where it does not grow or nobody weighed it."""
    batch = growth_in(farm, group_uid).batch_on(day.toordinal())
    return batch.pace if batch is not None and batch.grows else None
