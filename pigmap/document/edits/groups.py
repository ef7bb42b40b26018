"""Groups and what happens to them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from pigmap.document.edits.find import row_of
from pigmap.records import (
    Direction,
    Edit,
    Farm,
    Group,
    GroupEvent,
    GroupEventKind,
    PigClass,
    Record,
    RegisterEntry,
    RowChange,
    WeighedBy,
    add,
    change,
    new_uid,
)
from pigmap.text import Text

COLOURS = 8


def add_group(
    name: str,
    *,
    pig_class: PigClass = PigClass.GROWING,
    breed_type: str = "",
    colour_index: int | None = None,
    note: str = "",
    pigs: int | None = None,
    mean_kg: float | None = None,
    since: date | None = None,
    mark: str = "",
    from_where: str = "",
    uid: str = "",
) -> Edit:
    """Return the edit that adds a group.

    With `since` its pigs count from that day, with their mean weight [kg]. Without a colour it takes the first
    that the fewest other groups have. With their mark, or from where they came, they have a line in the register.
    """
    group_uid, event_uid = uid or new_uid(), new_uid()
    group = Group(uid=group_uid, name=name, pig_class=pig_class, breed_type=breed_type, note=note)
    events: list[Record] = []
    if since is not None and pigs and (mark or from_where):
        line = RegisterEntry(
            happened_on=since,
            direction=Direction.ON,
            pigs=pigs,
            mark=mark,
            from_where=from_where,
            group_uid=group_uid,
        )
        events.append(line)
    if since is not None:
        events.append(
            GroupEvent(
                uid=event_uid,
                group_uid=group_uid,
                happened_on=since,
                kind=GroupEventKind.BOUGHT,
                pigs=pigs,
                mean_kg=mean_kg,
            )
        )

    def changes(farm: Farm) -> Sequence[RowChange]:
        colour = free_colour(farm) if colour_index is None else colour_index
        return [add(replace(group, colour_index=colour)), *(add(event) for event in events)]

    return Edit(Text("{name} added.", {"name": name}), changes)


def free_colour(farm: Farm) -> int:
    """Return the first colour that the fewest groups have that have not ended."""
    used = [group.colour_index for group in farm.groups.values() if group.closed_on is None]
    return min(range(COLOURS), key=lambda colour: (used.count(colour), colour))


def record_event(group_uid: str, happened_on: date, kind: GroupEventKind, *, uid: str = "", **columns: Any) -> Edit:
    """Return the edit that records what happened to a group; `columns` are further columns of `GroupEvent`."""
    event = GroupEvent(uid=uid or new_uid(), group_uid=group_uid, happened_on=happened_on, kind=kind, **columns)

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Group, group_uid)
        return [add(event)]

    return Edit(Text("Recorded on {day}: {kind}.", {"day": happened_on, "kind": Text(str(kind))}), changes)


def weigh(
    group_uid: str,
    on: date,
    mean_kg: float,
    *,
    pigs: int | None = None,
    weighed_by: WeighedBy = WeighedBy.SCALE,
    uid: str = "",
) -> Edit:
    """Return the edit that records a weighing: the mean weight of the pigs that were weighed [kg]."""
    return record_event(
        group_uid, on, GroupEventKind.WEIGHED, mean_kg=mean_kg, pigs=pigs, weighed_by=weighed_by, uid=uid
    )


def count_and_weigh(
    group_uid: str,
    on: date,
    *,
    pigs: int | None = None,
    was: int = 0,
    why: GroupEventKind | None = None,
    mean_kg: float | None = None,
    weighed_by: WeighedBy = WeighedBy.SCALE,
) -> Edit:
    """Return the edit that puts number and weight of a group right, each where it is given.

    Parameters
    ----------
    group_uid, on
        Of whom, and on which day.
    pigs, was
        How many there are, and how many the records make it until now.
    why
        What happened to those that are more or fewer; None where they were counted or typed wrong before: then the
        entry with which they came is put right.
    mean_kg
        What one weighs [kg]. A weight of the same day is put right, not averaged with.
    weighed_by
        How that was found.
    """
    uids = new_uid(), new_uid()

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Group, group_uid)
        rows = list(_counted(farm, group_uid, on, pigs, was, why, uids[0]))
        if mean_kg is None:
            return rows
        now = farm.after(rows)
        of_day = [each for each in _events(now, group_uid) if each.happened_on == on and each.mean_kg is not None]
        if of_day:
            right = [replace(each, mean_kg=mean_kg, weighed_by=weighed_by) for each in of_day]
            return [*rows, *(change(old, new) for old, new in zip(of_day, right, strict=True))]
        told = weigh(group_uid, on, mean_kg, pigs=pigs or was or None, weighed_by=weighed_by, uid=uids[1])
        return [*rows, *told.changes(now)]

    return Edit(Text("Weighed or counted on {day}.", {"day": on}), changes)


def _counted(
    farm: Farm, group_uid: str, on: date, pigs: int | None, was: int, why: GroupEventKind | None, uid: str
) -> Sequence[RowChange]:
    if pigs is None or pigs == was:
        return ()
    if why is not None:
        return record_event(group_uid, on, why, pigs=abs(pigs - was), uid=uid).changes(farm)
    came = [each for each in _events(farm, group_uid) if each.kind in _CAME and each.happened_on <= on and each.pigs]
    if came and (came[-1].pigs or 0) + pigs - was >= 0:
        return [change(came[-1], replace(came[-1], pigs=(came[-1].pigs or 0) + pigs - was))]
    kind = GroupEventKind.JOINED if pigs > was else GroupEventKind.SPLIT
    return record_event(group_uid, on, kind, pigs=abs(pigs - was), uid=uid).changes(farm)


_CAME = (GroupEventKind.BOUGHT, GroupEventKind.BORN, GroupEventKind.JOINED)


def _events(farm: Farm, group_uid: str) -> list[GroupEvent]:
    """Return what happened to a group, the earliest first."""
    found = [each for each in farm.group_events.values() if each.group_uid == group_uid]
    return sorted(found, key=lambda each: (each.happened_on, each.uid))


def close_group(uid: str, on: date) -> Edit:
    """Return the edit that ends a group: nobody is left in it from that day on."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        group = row_of(farm, Group, uid)
        return [change(group, replace(group, closed_on=on))]

    return Edit(Text("Group ended on {day}.", {"day": on}), changes)
