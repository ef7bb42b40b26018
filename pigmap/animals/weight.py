"""How many pigs a group has on a day, and how heavy they are."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.animals.tables import USUAL_KG
from pigmap.records import Farm, Group, GroupEvent, GroupEventKind
from pigmap.records.frozen import dataclass

_IN = frozenset((GroupEventKind.BOUGHT, GroupEventKind.BORN, GroupEventKind.JOINED))
_OUT = frozenset((GroupEventKind.SOLD, GroupEventKind.DIED, GroupEventKind.SPLIT))


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
    """Days on which pigs were weighed, rising, (m,)."""
    weights: NDArray[np.float64]
    """Mean weight on each of these days [kg], (m,)."""

    def pigs(self, days: NDArray[np.int64]) -> NDArray[np.int64]:
        """Return the pigs on each day; before the first count as many as after it."""
        return self.counts[np.maximum(np.searchsorted(self.count_days, days, side="right") - 1, 0)]

    def mean_kg(self, days: NDArray[np.int64]) -> NDArray[np.float64]:
        """Return the mean weight on each day [kg]: linear between weighings, level before and after them."""
        return np.interp(days, self.weight_days, self.weights)


def growth_of(group: Group, events: Iterable[GroupEvent]) -> Growth:
    """Return the counts and weights of a group from what happened to it.

    Bought, born and joined add pigs, sold, died and split take them away. Pigs that make up an empty group count as
    weighed where their weight is given. A group that never got pigs by an event has as many as were last weighed.
    """
    ordered = sorted(events, key=lambda event: event.happened_on)
    counted = _counted(ordered)
    weighed = _weighed(ordered)
    if not any(pigs for _, pigs in counted):
        stood = [event.pigs for event in ordered if event.kind is GroupEventKind.WEIGHED and event.pigs]
        counted = [(0, stood[-1] if stood else 0)]
    if not weighed:
        weighed = [(0, USUAL_KG[group.pig_class])]
    return Growth(
        np.array([day for day, _ in counted], dtype=np.int64),
        np.array([pigs for _, pigs in counted], dtype=np.int64),
        np.array([day for day, _ in weighed], dtype=np.int64),
        np.array([mean for _, mean in weighed], dtype=np.float64),
    )


def _counted(events: Sequence[GroupEvent]) -> list[tuple[int, int]]:
    """Return the count after each day on which it changed."""
    after: dict[int, int] = {}
    pigs = 0
    for event in events:
        change = (event.pigs or 0) * ((event.kind in _IN) - (event.kind in _OUT))
        if change:
            pigs = max(pigs + change, 0)
            after[event.happened_on.toordinal()] = pigs
    return sorted(after.items())


def _weighed(events: Sequence[GroupEvent]) -> list[tuple[int, float]]:
    """Return the mean weight of each day with a weighing; several on one day by the pigs on the scale."""
    scales: dict[int, list[tuple[float, int]]] = {}
    pigs = 0
    for event in events:
        is_first = event.kind in _IN and pigs == 0
        if event.mean_kg is not None and (event.kind is GroupEventKind.WEIGHED or is_first):
            scales.setdefault(event.happened_on.toordinal(), []).append((event.mean_kg, event.pigs or 1))
        pigs = max(pigs + (event.pigs or 0) * ((event.kind in _IN) - (event.kind in _OUT)), 0)
    return [(day, sum(kg * n for kg, n in each) / sum(n for _, n in each)) for day, each in sorted(scales.items())]


def live_weight(farm: Farm, group_uid: str, day: date) -> Weight:
    """Return how many pigs a group has on a day and how heavy they are.

    Raises
    ------
    KeyError
        If the farm has no such group.
    """
    events = (event for event in farm.group_events.values() if event.group_uid == group_uid)
    growth = growth_of(farm.groups[group_uid], events)
    on = np.array([day.toordinal()], dtype=np.int64)
    pigs, mean_kg = int(growth.pigs(on)[0]), float(growth.mean_kg(on)[0])
    return Weight(pigs, mean_kg, pigs * mean_kg, weighed=bool(growth.weight_days[0]))
