"""What is left in tank and feeder, counted from the day they were last filled."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import NamedTuple

from pigmap.animals.feed import daily_feed_kg
from pigmap.animals.needs import Needs
from pigmap.animals.water import water_of
from pigmap.animals.weight import Weight, live_weight
from pigmap.records import Farm, Group

MOST_DAYS = 60
"""Days since it was filled after which nothing is counted any more. Own choice."""


class Left(NamedTuple):
    """What is left at the start of a day, if the most that they drink or eat was taken each day since."""

    filled_on: date
    amount: float
    """Litres or kilograms; 0 where it is empty by the count."""
    days: float
    """Until it is empty; below zero, since when it is."""
    hot_days: float
    """The same in hot weather."""


def tank_left(farm: Farm, need: Needs, day: date) -> Left | None:
    """Return what is left in the tank of a group on a day; None where nobody told its size, or when it was filled."""
    group = need.group

    def drunk(weight: Weight) -> float:
        return weight.pigs * water_of(group.pig_class, weight.mean_kg).most_l

    filled = group.tank_filled_on
    return _left(farm, group, group.tank_l, filled, day, drunk, (need.drink_l, need.hot_drink_l))


def feeder_left(farm: Farm, need: Needs, day: date) -> Left | None:
    """Return what is left in the feeder of a group on a day; None as `tank_left` has it."""
    group = need.group

    def eaten(weight: Weight) -> float:
        return weight.pigs * float(daily_feed_kg(group, weight.mean_kg))

    filled = group.feeder_filled_on
    return _left(farm, group, group.feeder_kg, filled, day, eaten, (need.feed_kg, need.feed_kg))


def _left(
    farm: Farm,
    group: Group,
    holds: float | None,
    filled_on: date | None,
    day: date,
    taken: Callable[[Weight], float],
    daily: tuple[float, float],
) -> Left | None:
    if not holds or filled_on is None or min(daily) <= 0 or not 0 <= (day - filled_on).days <= MOST_DAYS:
        return None
    left = holds
    for after in range((day - filled_on).days):
        a_day = taken(live_weight(farm, group.uid, filled_on + timedelta(days=after)))
        if left < a_day:
            since = left / max(a_day, 1e-9) + after - (day - filled_on).days
            return Left(filled_on, 0.0, since, since)
        left -= a_day
    return Left(filled_on, left, left / daily[0], left / daily[1])
