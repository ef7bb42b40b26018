"""The rule that a group is in one place, and that no two groups are on the same ground."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

import shapely

from pigmap.planning.names import group_called, paddock_called
from pigmap.planning.rule import Breach
from pigmap.records import Farm, Stay, StayState
from pigmap.text import Quantity, Text

SOME_GROUND_M2 = 1.0
"""Less common ground than this is the play of a net [m²]. Own choice."""


class OnePlace:
    """Looks for a group in two paddocks on one day, and for two groups on one piece of ground."""

    api = 1
    name = "one-place"
    title = Text("A group is in one place, and alone there")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        for earlier, later in _at_one_time(farm, today):
            if earlier.group_uid == later.group_uid:
                yield _in_two_places(farm, earlier, later)
            elif (area := float(shapely.intersection(earlier.ground, later.ground).area)) > SOME_GROUND_M2:
                yield _on_one_ground(farm, earlier, later, area * farm.projection.ground_per_grid**2)


def _at_one_time(farm: Farm, today: date) -> Iterator[tuple[Stay, Stay]]:
    """Yield pairs of stays that have a day in common, by the day on which the later one begins."""
    there: list[Stay] = []
    for stay in sorted(farm.stays.values(), key=lambda stay: (stay.in_on, stay.uid)):
        there = [other for other in there if _end(other, today) > stay.in_on]
        yield from ((other, stay) for other in there if _end(stay, today) > stay.in_on)
        there.append(stay)


def _end(stay: Stay, today: date) -> date:
    """Return the first day after a stay; one without a day out is known to last over today, and no longer."""
    return stay.out_on if stay.out_on is not None else max(stay.in_on, today) + timedelta(days=1)


def _in_two_places(farm: Farm, earlier: Stay, later: Stay) -> Breach:
    words = Text(
        "{group} are in {paddock} and in {other} on {day}.",
        {
            "group": group_called(farm, later.group_uid),
            "paddock": paddock_called(farm, earlier.paddock_uid),
            "other": paddock_called(farm, later.paddock_uid),
            "day": later.in_on,
        },
    )
    if later.state is StayState.PLANNED:
        remedy = Text(
            "Let the stay in {paddock} end first, or plan the next one later.", {"paddock": words.values["paddock"]}
        )
    else:
        remedy = Text("Put right the day on which they left {paddock}.", {"paddock": words.values["paddock"]})
    return _breach(later, words, remedy)


def _on_one_ground(farm: Farm, earlier: Stay, later: Stay, area_m2: float) -> Breach:
    words = Text(
        "{group} and {other} are both on {area} of {paddock} on {day}.",
        {
            "group": group_called(farm, earlier.group_uid),
            "other": group_called(farm, later.group_uid),
            "area": Quantity(round(area_m2), "m²"),
            "paddock": paddock_called(farm, later.paddock_uid),
            "day": later.in_on,
        },
    )
    if later.state is StayState.PLANNED:
        remedy = Text("Plan {other} elsewhere, or later.", {"other": words.values["other"]})
    else:
        remedy = Text("If they did meet, nothing is to be done; if not, put right the days or the ground.")
    return _breach(later, words, remedy)


def _breach(later: Stay, words: Text, remedy: Text) -> Breach:
    planned = later.state is StayState.PLANNED
    return Breach("stays", later.uid, words, remedy, "plan" if planned else "fact", later.in_on)


rule = OnePlace()
