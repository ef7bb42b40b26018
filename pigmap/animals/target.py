"""When a group comes to a weight, and on which days it was lighter than before."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise
from typing import NamedTuple

from pigmap.animals.batches import LIKELY, Weighing, place_sd
from pigmap.animals.growth import FITTED_SHARE, place_of
from pigmap.animals.weight import growth_in
from pigmap.records import Farm
from pigmap.text import Quantity, Text

SIGHT_DAYS = 1000
"""Days ahead within which such a day is told. Own choice."""


class Reached(NamedTuple):
    """Days on which a group may come to a weight."""

    earliest: date
    likely: date
    latest: date | None
    """None where it may never come to it."""
    past_curve: bool
    """Whether the weight is beyond those from which the curve was made."""


def reaches(farm: Farm, group_uid: str, target_kg: float) -> Reached | None:
    """Return when a group comes to a mean weight, from its last weighing on.

    None where it does not grow, nobody weighed it, or the weight is not within sight.
    """
    growth = growth_in(farm, group_uid)
    batch = growth.batches[-1] if growth.batches else None
    if batch is None or not batch.grows or target_kg >= batch.mature_kg or batch.pace.rate_per_d <= 0:
        return None
    last, rate, sd = batch.weighed[-1], batch.pace.rate_per_d, LIKELY * batch.pace.sd_per_d
    place = float(place_of(last.kg, batch.mature_kg))
    ahead = float(place_of(target_kg, batch.mature_kg)) - place
    off = LIKELY * place_sd(last, batch.mature_kg)
    days = _days(ahead, rate)
    if days is None:
        return None
    earliest, latest = _days(ahead - off, rate + sd), _days(ahead + off, rate - sd)
    return Reached(
        _on(last, 0.0 if earliest is None else earliest),
        _on(last, days),
        None if latest is None else _on(last, latest),
        target_kg > FITTED_SHARE * batch.mature_kg,
    )


def _days(ahead: float, rate: float) -> float | None:
    if rate <= 0 or ahead / rate > SIGHT_DAYS:
        return None
    return max(ahead / rate, 0.0)


def _on(last: Weighing, days: float) -> date:
    return date.fromordinal(last.day) + timedelta(days=round(days))


class Fall(NamedTuple):
    """Two weighings after each other of which the later is less."""

    group_uid: str
    before: date
    before_kg: float
    day: date
    kg: float


def falls_of(farm: Farm, group_uid: str) -> list[Fall]:
    """Return where the weight of growing pigs fell from one weighing to the next; both are used as they are."""
    return [
        Fall(group_uid, date.fromordinal(one.day), one.kg, date.fromordinal(other.day), other.kg)
        for batch in growth_in(farm, group_uid).batches
        if batch.grows
        for one, other in pairwise(batch.weighed)
        if other.kg < one.kg
    ]


def fall_words(farm: Farm, fall: Fall) -> Text:
    """Return which group was lighter than before, and on which day."""
    return Text(
        "{group} weighed {kg} on {day}, less than the {before} of {then}. Both count as they are written: look at the "
        "two.",
        {
            "group": farm.groups[fall.group_uid].name,
            "kg": Quantity(fall.kg, "kg", 1),
            "day": fall.day,
            "before": Quantity(fall.before_kg, "kg", 1),
            "then": fall.before,
        },
    )
