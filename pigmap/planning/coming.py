"""What rules the days of a group: withdrawal that runs, a sow that is due, pigs that are booked."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from enum import StrEnum
from typing import NamedTuple

from pigmap.planning.withdrawal import given_to
from pigmap.records import Farm
from pigmap.text import Text

AHEAD = timedelta(days=10)
"""So far ahead of a move it is said what is coming. Own choice."""


class Sort(StrEnum):
    """What it is."""

    HELD = "held"
    DUE = "due"
    BOOKED = "booked"


class Coming(NamedTuple):
    """One thing that rules a day: that on which it is, or the first after withdrawal."""

    sort: Sort
    day: date
    words: Text
    since: date
    """The first day that it rules; the same day but for withdrawal."""


def coming_of(farm: Farm, group_uid: str) -> list[Coming]:
    """Return what rules days of a group, past and to come, earliest first."""
    found = [*_held(farm, group_uid), *_due(farm, group_uid), *_booked(farm, group_uid)]
    return sorted(found, key=lambda each: (each.day, each.sort))


def ruling(farm: Farm, group_uid: str, day: date) -> list[Coming]:
    """Return what rules a day of a group, or is close ahead of it."""
    return [
        each
        for each in coming_of(farm, group_uid)
        if each.since <= day + AHEAD and day <= each.day and _runs(each, day)
    ]


def _runs(each: Coming, day: date) -> bool:
    return each.sort is not Sort.HELD or each.since <= day < each.day


def _held(farm: Farm, group_uid: str) -> Iterator[Coming]:
    for given in given_to(farm, group_uid, date.max):
        clear_on = given.treatment.clear_on
        if clear_on is not None and clear_on > given.treatment.given_on + timedelta(days=1):
            words = Text("{medicine}: free on {day}", {"medicine": given.treatment.product, "day": clear_on})
            yield Coming(Sort.HELD, clear_on, words, given.treatment.given_on)


def _due(farm: Farm, group_uid: str) -> Iterator[Coming]:
    for litter in farm.litters.values():
        due = litter.due
        if (
            litter.group_uid == group_uid
            and due is not None
            and litter.farrowed_on is None
            and litter.weaned_on is None
        ):
            yield Coming(Sort.DUE, due, Text("{sow} due on {day}", {"sow": litter.sow, "day": due}), due)


def _booked(farm: Farm, group_uid: str) -> Iterator[Coming]:
    for booking in farm.slaughter_bookings.values():
        if booking.group_uid != group_uid or booking.gone is not None:
            continue
        words = Text("pigs booked for {day}", {"day": booking.goes_on})
        if booking.pigs is not None:
            words = Text(
                "1 pig booked for {day}",
                {"day": booking.goes_on},
                plural="{count} pigs booked for {day}",
                count=booking.pigs,
            )
        yield Coming(Sort.BOOKED, booking.goes_on, words, booking.goes_on)
