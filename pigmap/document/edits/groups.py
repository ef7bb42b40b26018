"""Groups and what happens to them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from pigmap.document.edits.find import row_of
from pigmap.records import Edit, Farm, Group, GroupEvent, GroupEventKind, PigClass, RowChange, add, change, new_uid
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
    uid: str = "",
) -> Edit:
    """Return the edit that adds a group.

    With `since` its pigs count from that day, with their mean weight [kg]. Without a colour it takes the first
    that the fewest other groups have.
    """
    group_uid, event_uid = uid or new_uid(), new_uid()
    group = Group(uid=group_uid, name=name, pig_class=pig_class, breed_type=breed_type, note=note)
    events = []
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
        colour = _free_colour(farm) if colour_index is None else colour_index
        return [add(replace(group, colour_index=colour)), *(add(event) for event in events)]

    return Edit(Text("{name} added.", {"name": name}), changes)


def _free_colour(farm: Farm) -> int:
    used = [group.colour_index for group in farm.groups.values() if group.closed_on is None]
    return min(range(COLOURS), key=lambda colour: (used.count(colour), colour))


def record_event(group_uid: str, happened_on: date, kind: GroupEventKind, *, uid: str = "", **columns: Any) -> Edit:
    """Return the edit that records what happened to a group; `columns` are further columns of `GroupEvent`."""
    event = GroupEvent(uid=uid or new_uid(), group_uid=group_uid, happened_on=happened_on, kind=kind, **columns)

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Group, group_uid)
        return [add(event)]

    return Edit(Text("Recorded on {day}: {kind}.", {"day": happened_on, "kind": Text(str(kind))}), changes)


def weigh(group_uid: str, on: date, mean_kg: float, *, pigs: int | None = None, uid: str = "") -> Edit:
    """Return the edit that records a weighing: the mean weight of the pigs on the scale [kg]."""
    return record_event(group_uid, on, GroupEventKind.WEIGHED, mean_kg=mean_kg, pigs=pigs, uid=uid)


def close_group(uid: str, on: date) -> Edit:
    """Return the edit that ends a group: nobody is left in it from that day on."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        group = row_of(farm, Group, uid)
        return [change(group, replace(group, closed_on=on))]

    return Edit(Text("Group ended on {day}.", {"day": on}), changes)
