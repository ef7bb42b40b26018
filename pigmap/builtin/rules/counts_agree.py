"""The rule that no more pigs leave a group than are in it, as the records count them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from pigmap.planning.names import group_called
from pigmap.planning.rule import Breach
from pigmap.records import Farm, GroupEvent, GroupEventKind
from pigmap.text import Text, Value

_CAME = (GroupEventKind.BOUGHT, GroupEventKind.BORN, GroupEventKind.JOINED)
_LEFT = (GroupEventKind.SOLD, GroupEventKind.DIED, GroupEventKind.SPLIT)


class CountsAgree:
    """Looks for pigs that left though they had not come. Both stand: what happened, happened."""

    api = 1
    name = "counts-agree"
    title = Text("No more pigs leave a group than are in it")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        of_group: dict[str, list[GroupEvent]] = {}
        for event in farm.group_events.values():
            if event.pigs and event.kind in (*_CAME, *_LEFT):
                of_group.setdefault(event.group_uid, []).append(event)
        found = [breach for events in of_group.values() for breach in _of_group(farm, events)]
        return sorted(found, key=lambda breach: (breach.day or date.min, breach.uid))


def _of_group(farm: Farm, events: list[GroupEvent]) -> Iterator[Breach]:
    """Yield what leaves too many; of a group whose pigs were never told to come nobody knows how many there were."""
    there: int | None = None
    for event in sorted(events, key=lambda each: (each.happened_on, each.kind in _LEFT, each.uid)):
        pigs = event.pigs or 0
        if event.kind in _CAME:
            there = (there or 0) + pigs
        elif there is not None:
            if pigs > there:
                yield _too_many(farm, event, there)
            there = max(there - pigs, 0)


def _too_many(farm: Farm, event: GroupEvent, there: int) -> Breach:
    values: dict[str, Value] = {
        "group": group_called(farm, event.group_uid),
        "day": event.happened_on,
        "left": event.pigs or 0,
    }
    words = Text(
        "{left} pigs left {group} on {day}; 1 was there.",
        values,
        plural="{left} pigs left {group} on {day}; {count} were there.",
        count=there,
    )
    remedy = Text("Put right the number, or tell when the others came.")
    return Breach(event.TABLE, event.uid, words, remedy, "fact", event.happened_on)


rule = CountsAgree()
