"""Pigs that came onto the farm from elsewhere: by the register, or bought into a group that was there."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from pigmap.records import Direction, Farm, GroupEvent, GroupEventKind


class Arrival(NamedTuple):
    """Pigs that came on a day."""

    day: date
    group_uid: str | None
    table: str
    uid: str


def arrivals(farm: Farm) -> list[Arrival]:
    """Return what came, earliest first.

    A group's first pigs count only with a line in the register: where a farm is begun, its groups were there before.
    """
    lines = [
        Arrival(each.happened_on, each.group_uid, each.TABLE, each.uid)
        for each in farm.register_entries.values()
        if each.direction is Direction.ON
    ]
    told = {(each.day, each.group_uid) for each in lines}
    began = _began(farm)
    bought = [
        Arrival(each.happened_on, each.group_uid, each.TABLE, each.uid)
        for each in farm.group_events.values()
        if each.kind is GroupEventKind.BOUGHT
        and each.uid != began.get(each.group_uid)
        and (each.happened_on, each.group_uid) not in told
    ]
    return sorted([*lines, *bought], key=lambda each: (each.day, each.uid))


_BRINGS = (GroupEventKind.BOUGHT, GroupEventKind.BORN, GroupEventKind.JOINED)


def _began(farm: Farm) -> dict[str, str]:
    """Return the entry with which each group began."""
    first: dict[str, GroupEvent] = {}
    for each in farm.group_events.values():
        known = first.get(each.group_uid)
        if each.kind in _BRINGS and (known is None or each.happened_on < known.happened_on):
            first[each.group_uid] = each
    return {group: each.uid for group, each in first.items()}


def begins_group(farm: Farm, event: GroupEvent) -> bool:
    """Return whether an entry only begins its group: no line of the register says that its pigs came then."""
    return (
        event.kind is GroupEventKind.BOUGHT
        and _began(farm).get(event.group_uid) == event.uid
        and not any(
            line.direction is Direction.ON
            and (line.group_uid, line.happened_on) == (event.group_uid, event.happened_on)
            for line in farm.register_entries.values()
        )
    )
