"""The rule that no pig goes to slaughter within the days of withdrawal, as they were typed from the label."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Literal

from pigmap.animals.weight import live_weight
from pigmap.planning.names import group_called
from pigmap.planning.rule import Breach
from pigmap.planning.withdrawal import UNTYPED_DAYS, Given, given_to
from pigmap.records import Farm, GroupEvent, GroupEventKind, SlaughterBooking
from pigmap.text import Text, Value


class Withdrawal:
    """Looks for pigs that are booked, or went, before the first day after withdrawal; untyped days are told of."""

    api = 1
    name = "withdrawal"
    title = Text("Pigs go to slaughter after the days of withdrawal")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        for booking in sorted(farm.slaughter_bookings.values(), key=lambda each: (each.goes_on, each.uid)):
            if booking.group_uid in farm.groups:
                yield from _of_booking(farm, booking)
        for event in sorted(farm.group_events.values(), key=lambda each: (each.happened_on, each.uid)):
            if event.kind is GroupEventKind.SOLD and event.group_uid in farm.groups and not _was_booked(farm, event):
                yield from _sold(farm, event)


def _of_booking(farm: Farm, booking: SlaughterBooking) -> Iterator[Breach]:
    assert booking.group_uid is not None
    for given in given_to(farm, booking.group_uid, booking.goes_on):
        clear_on = given.treatment.clear_on
        if clear_on is None:
            if booking.gone is None and booking.goes_on < given.treatment.given_on + UNTYPED_DAYS:
                yield _untyped(farm, booking, given)
        elif booking.goes_on < clear_on:
            yield _within(farm, booking, given, clear_on)


def _values(farm: Farm, booking: SlaughterBooking, given: Given) -> dict[str, Value]:
    return {
        "group": group_called(farm, booking.group_uid or ""),
        "day": booking.goes_on,
        "medicine": given.treatment.product,
        "last": given.treatment.last_on or given.treatment.given_on,
    }


def _within(farm: Farm, booking: SlaughterBooking, given: Given, clear_on: date) -> Breach:
    values = {**_values(farm, booking, given), "clear": clear_on}
    if booking.gone is not None:
        words = Text(
            "{group} went to slaughter on {day}; they are free of {medicine} on {clear}, by the label.", values
        )
        remedy = Text("Tell the slaughterhouse and the vet; if the day or the label was typed wrong, put it right.")
        return _breach(booking, words, remedy, "fact")
    if _others_are_enough(farm, booking, given):
        words = Text("Some of {group}, booked for {day}, had {medicine} and are free of it on {clear}.", values)
        return _breach(booking, words, Text("Leave those that had it at home, by their marks."), "care")
    words = Text("{group} are booked for {day}; they are free of {medicine} on {clear}, by the label.", values)
    return _breach(booking, words, Text("Book them for {clear} or later.", {"clear": clear_on}), "plan")


def _others_are_enough(farm: Farm, booking: SlaughterBooking, given: Given) -> bool:
    """Whether only some pigs had it, and as many as are booked had not."""
    had = given.treatment.pigs
    if given.all_of_them or had is None or booking.pigs is None:
        return False
    return live_weight(farm, booking.group_uid or "", booking.goes_on).pigs - had >= booking.pigs


def _untyped(farm: Farm, booking: SlaughterBooking, given: Given) -> Breach:
    words = "{group}, booked for {day}, had {medicine} on {last}; its days of withdrawal are not typed."
    remedy = Text("Type them from the label; 0 where it asks for none.")
    return _breach(booking, Text(words, _values(farm, booking, given)), remedy, "plan")


def _was_booked(farm: Farm, event: GroupEvent) -> bool:
    told = (event.group_uid, event.happened_on, event.pigs)
    return any((each.group_uid, each.goes_on, each.gone) == told for each in farm.slaughter_bookings.values())


def _sold(farm: Farm, event: GroupEvent) -> Iterator[Breach]:
    """Yield what pigs were given that were sold while it held them: whoever has them now has to know."""
    for given in given_to(farm, event.group_uid, event.happened_on):
        clear_on = given.treatment.clear_on
        if clear_on is not None and event.happened_on < clear_on:
            values: dict[str, Value] = {
                "group": group_called(farm, event.group_uid),
                "day": event.happened_on,
                "medicine": given.treatment.product,
                "clear": clear_on,
            }
            words = Text("Pigs of {group} were sold on {day}; they are free of {medicine} on {clear}.", values)
            remedy = Text("Tell the buyer in writing what they had, and on which day they are free of it.")
            yield Breach(event.TABLE, event.uid, words, remedy, "care", event.happened_on)


def _breach(booking: SlaughterBooking, words: Text, remedy: Text, weight: Literal["fact", "plan", "care"]) -> Breach:
    return Breach(booking.TABLE, booking.uid, words, remedy, weight, booking.goes_on)


rule = Withdrawal()
