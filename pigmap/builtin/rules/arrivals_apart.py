"""The rule that pigs that came from elsewhere stand apart from the others at first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from pigmap.animals.health import APART_DAYS
from pigmap.animals.sources import QUARANTINE
from pigmap.planning.arrivals import Arrival, arrivals
from pigmap.planning.names import group_called
from pigmap.planning.neighbours import common_day, neighbours
from pigmap.planning.rule import Breach
from pigmap.records import Farm
from pigmap.text import Quantity, Text, Value

APART = timedelta(days=APART_DAYS)
APART_M = 3.0
"""Paddocks nearer than that let pigs reach each other's noses [ground m]. Assumed."""


class ArrivalsApart:
    """Looks for newcomers in or beside a group that was there. It wants care, and no more."""

    api = 1
    name = "arrivals-apart"
    title = Text("Pigs from elsewhere stand apart at first")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        lately = [each for each in arrivals(farm) if each.day + APART > today and each.group_uid in farm.groups]
        for arrival in lately:
            if _came_into_a_group(farm, arrival):
                yield _mixed(farm, arrival)
            yield from _beside(farm, arrival, today)


def _values(farm: Farm, arrival: Arrival) -> dict[str, Value]:
    group = group_called(farm, arrival.group_uid or "")
    return {"group": group, "came": arrival.day, "until": arrival.day + APART, "days": APART_DAYS}


def _came_into_a_group(farm: Farm, arrival: Arrival) -> bool:
    """Whether the group had pigs before."""
    before = [each for each in farm.group_events.values() if each.group_uid == arrival.group_uid]
    return any(each.happened_on < arrival.day for each in before)


def _mixed(farm: Farm, arrival: Arrival) -> Breach:
    words = Text("Pigs from elsewhere came to {group} on {came}.", _values(farm, arrival))
    remedy = Text(
        "Newcomers stand apart for about {days} days; watch all of {group} until {until}.", _values(farm, arrival)
    )
    return Breach(arrival.table, arrival.uid, words, remedy, "care", arrival.day, source=QUARANTINE)


def _beside(farm: Farm, arrival: Arrival, today: date) -> Iterator[Breach]:
    pairs = neighbours(farm, today, lambda group: group.uid == arrival.group_uid, lambda group: True, APART_M)
    for new, other in pairs:
        day = max(common_day(new, other), arrival.day)
        if day >= arrival.day + APART:
            continue
        others = group_called(farm, other.stay.group_uid)
        values = {**_values(farm, arrival), "other": others, "day": day}
        words = Text("{group} came on {came} and stand beside {other} from {day}.", values)
        remedy = Text(
            "Keep a paddock's breadth between them until {until}, and see to them last. "
            "Beside means nearer than {near}: assumed.",
            values | {"near": Quantity(APART_M, "m")},
        )
        later = new if new.first >= other.first else other
        yield Breach("stays", later.stay.uid, words, remedy, "care", day, source=QUARANTINE)
        return


rule = ArrivalsApart()
