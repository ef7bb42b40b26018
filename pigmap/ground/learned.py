"""What daily checks tell of how fast this farm's pigs root, against the printed figures."""

from __future__ import annotations

from datetime import timedelta
from math import log
from typing import NamedTuple

import numpy as np

from pigmap.animals.weight import growth_in
from pigmap.ground.lasts import HowLong
from pigmap.ground.model import model_of
from pigmap.ground.tables import COVER_BY_SCORE, LEAST_COVER, MOST_COVER
from pigmap.ground.wear import wear_times
from pigmap.records import Check, Farm, Stay, StayState
from pigmap.text import Quantity, Text, Value

VISITS_WANTED = 10
"""Visits with a check of the rooting from which the farm's own figure may lead. Own choice."""
_AFTER = timedelta(days=3)
"""How long after pigs left a check still tells what they did. Own choice."""


class Learned(NamedTuple):
    """How fast pigs root here, as times the printed figure."""

    visits: int
    times: float

    @property
    def enough(self) -> bool:
        """Whether it rests on enough visits to be chosen."""
        return self.visits >= VISITS_WANTED


def learned_of(farm: Farm) -> Learned | None:
    """Return what the farm's visits tell, the middle one of them; None where no check of the rooting tells anything.

    A visit counts by the last check of its rooting, from the day after they came to three days after they left, as if
    the ground had been grown back before.
    """
    by_paddock: dict[str, list[Check]] = {}
    for each in farm.checks.values():
        if each.rooting_score is not None:
            by_paddock.setdefault(each.paddock_uid, []).append(each)
    times = [
        found
        for stay in farm.stays.values()
        if stay.state is StayState.PAST and (found := _times(farm, stay, by_paddock)) is not None
    ]
    return Learned(len(times), float(np.sort(np.array(times))[len(times) // 2])) if times else None


def _times(farm: Farm, stay: Stay, by_paddock: dict[str, list[Check]]) -> float | None:
    """Return the loss of cover in one visit as times the printed one; None where nothing tells it."""
    paddock = farm.paddocks.get(stay.paddock_uid)
    field = farm.fields.get(paddock.field_uid or "") if paddock is not None else None
    group = farm.groups.get(stay.group_uid)
    if field is None or group is None or stay.out_on is None:
        return None
    until = stay.out_on + _AFTER
    seen = [each for each in by_paddock.get(stay.paddock_uid, []) if stay.in_on < each.checked_on <= until]
    if not seen:
        return None
    last = max(seen, key=lambda each: (each.checked_on, each.uid))
    days = np.arange(stay.in_on.toordinal(), min(last.checked_on, stay.out_on).toordinal())
    growth = growth_in(farm, group.uid)
    weight = float((growth.pigs(days) * growth.mean_kg(days)).sum()) * wear_times(group)
    area = stay.ground.area * farm.projection.ground_per_grid**2
    printed = model_of(farm, field).loss * weight / max(area, 1.0)
    cover = min(max(COVER_BY_SCORE[last.rooting_score or 0], LEAST_COVER), MOST_COVER)
    return log(MOST_COVER / cover) / printed if printed > 0 else None


def learned_days(found: HowLong, learned: Learned) -> float | None:
    """Return the days until more is rooted than is welcome, at the pace that this farm's visits tell."""
    if found.rooting.days is None or learned.times <= 0:
        return None
    return found.rooting.days / learned.times


def learned_words(found: HowLong, learned: Learned | None) -> Text | None:
    """Return what the farm's visits would say; None where nothing tells it or rooting sets no end."""
    days = learned_days(found, learned) if learned is not None else None
    if learned is None or days is None:
        return None
    if not learned.enough:
        return Text(
            "{visits} of {wanted} visits with a check of the rooting are there to learn this farm's own pace from.",
            {"visits": learned.visits, "wanted": VISITS_WANTED},
        )
    values: dict[str, Value] = {"visits": learned.visits, "days": Quantity(days, "d", 1 if days < 2.75 else 0)}
    return Text("{days} as {visits} visits on this farm tell. You may take them as your own days.", values)
