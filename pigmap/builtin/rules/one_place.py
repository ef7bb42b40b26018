"""The rule that a group is in one place, and that no two groups are on the same ground."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date, timedelta
from typing import NamedTuple

import shapely

from pigmap.planning.names import group_called, paddock_called
from pigmap.planning.rule import Breach
from pigmap.records import Farm, Lasting, Stay, StayState, lasting_on
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
    really = lasting_on(farm, today)
    there: list[_Days] = []
    for days in sorted((_days(stay, really, today) for stay in farm.stays.values()), key=_order):
        there = [other for other in there if max(other.end, other.written_end) > days.first]
        yield from ((other.stay, days.stay) for other in there if _meet(other, days))
        there.append(days)


class _Days(NamedTuple):
    """A stay, the days on which its group is really there, and the first day after it as it is written."""

    stay: Stay
    first: date
    end: date
    written_end: date


def _order(days: _Days) -> tuple[date, date, str]:
    return days.first, days.stay.in_on, days.stay.uid


def _meet(earlier: _Days, later: _Days) -> bool:
    """Whether two stays have a day in common.

    Of one group a stay ends where the next begins: only what is written tells that the two contradict each other.
    """
    if earlier.stay.group_uid == later.stay.group_uid:
        return earlier.written_end > later.first and later.written_end > later.first
    return earlier.end > later.first and later.end > later.first


def _days(stay: Stay, really: Mapping[str, Lasting], today: date) -> _Days:
    """Return the days of a stay; one with no end in sight is known to last over today, and no longer."""
    tomorrow = today + timedelta(days=1)
    planned = stay.state is StayState.PLANNED
    first = max(stay.in_on, tomorrow) if planned else stay.in_on
    open_end = max(first + timedelta(days=1), tomorrow)
    still = stay.state is StayState.RUNNING and (stay.out_on is None or stay.out_on <= today)
    written = open_end if still or stay.out_on is None else stay.out_on
    each = really.get(stay.uid)
    if each is None:
        return _Days(stay, first, first, written)
    return _Days(stay, first, each.end or open_end, written)


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
    return replace(_breach(earlier, later, words, remedy), reason_helps="never")


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
    return _breach(earlier, later, words, remedy)


def _breach(earlier: Stay, later: Stay, words: Text, remedy: Text) -> Breach:
    planned = later.state is StayState.PLANNED
    return Breach("stays", later.uid, words, remedy, "plan" if planned else "fact", later.in_on, (earlier.uid,))


rule = OnePlace()
