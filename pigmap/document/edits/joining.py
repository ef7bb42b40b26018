"""Groups that are joined and split, and pigs that are born or die."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from pigmap.document.edits.find import row_of
from pigmap.document.edits.groups import free_colour, record_event
from pigmap.errors import EditError
from pigmap.records import (
    Direction,
    Edit,
    Farm,
    Group,
    GroupEvent,
    GroupEventKind,
    RegisterEntry,
    RowChange,
    add,
    change,
    new_uid,
)
from pigmap.text import Text


def pigs_born(group_uid: str, on: date, pigs: int, *, mean_kg: float | None = None, note: str = "") -> Edit:
    """Return the edit that records that pigs were born, which count as pigs of the group from then on."""
    edit = record_event(group_uid, on, GroupEventKind.BORN, pigs=pigs, mean_kg=mean_kg, note=note)
    return replace(edit, label=Text("1 pig born on {day}.", {"day": on}, plural=_BORN, count=pigs))


_BORN = "{count} pigs born on {day}."
_DIED = "{count} pigs died on {day}."


def pigs_died(
    group_uid: str, on: date, pigs: int, *, note: str = "", to_where: str = "", register: bool = False
) -> Edit:
    """Return the edit that records that pigs died, with a line in the register where told so."""
    edit = record_event(group_uid, on, GroupEventKind.DIED, pigs=pigs, note=note)
    line = RegisterEntry(
        uid=new_uid(),
        happened_on=on,
        direction=Direction.OFF,
        pigs=pigs,
        to_where=to_where,
        group_uid=group_uid,
        note=note,
    )

    def changes(farm: Farm) -> Sequence[RowChange]:
        return [*edit.changes(farm), *([add(line)] if register else [])]

    return Edit(Text("1 pig died on {day}.", {"day": on}, plural=_DIED, count=pigs), changes)


def join_groups(group_uid: str, into_uid: str, on: date, pigs: int, *, mean_kg: float | None = None) -> Edit:
    """Return the edit that lets all pigs of a group go to another; the group that is empty then ends that day.

    Parameters
    ----------
    pigs, mean_kg
        How many they are, and what one weighs [kg].
    """
    went = move_pigs(group_uid, into_uid, on, pigs, mean_kg=mean_kg)

    def changes(farm: Farm) -> Sequence[RowChange]:
        group = row_of(farm, Group, group_uid)
        return [*went.changes(farm), change(group, replace(group, closed_on=on))]

    return Edit(Text("Groups joined on {day}.", {"day": on}), changes)


def split_group(group_uid: str, name: str, on: date, pigs: int, *, mean_kg: float | None = None, uid: str = "") -> Edit:
    """Return the edit that begins a group with some pigs of another; they are of the same kind and breed."""
    new = Group(uid=uid or new_uid(), name=name)
    went = move_pigs(group_uid, new.uid, on, pigs, mean_kg=mean_kg)

    def changes(farm: Farm) -> Sequence[RowChange]:
        of = row_of(farm, Group, group_uid)
        colour = free_colour(farm)
        begun = add(
            replace(new, colour_index=colour, pig_class=of.pig_class, breed_type=of.breed_type, ringed=of.ringed)
        )
        return [begun, *went.changes(farm.after([begun]))]

    return Edit(Text("{name} split off on {day}.", {"name": name, "day": on}), changes)


def move_pigs(group_uid: str, into_uid: str, on: date, pigs: int, *, mean_kg: float | None = None) -> Edit:
    """Return the edit that lets some pigs of a group go to another.

    Raises
    ------
    RecordError
        If a value cannot exist.
    EditError
        If both are the same group; when it is done, if one of them is gone.
    """
    if group_uid == into_uid:
        raise EditError("They are in this group already.", remedy="Choose another group.")
    left = GroupEvent(
        uid=new_uid(),
        group_uid=group_uid,
        happened_on=on,
        kind=GroupEventKind.SPLIT,
        pigs=pigs,
        mean_kg=mean_kg,
        other_group_uid=into_uid,
    )
    came = replace(left, uid=new_uid(), group_uid=into_uid, kind=GroupEventKind.JOINED, other_group_uid=group_uid)

    def changes(farm: Farm) -> Sequence[RowChange]:
        for uid in (group_uid, into_uid):
            row_of(farm, Group, uid)
        return [add(left), add(came)]

    words = "1 pig went to another group on {day}."
    return Edit(Text(words, {"day": on}, plural="{count} pigs went to another group on {day}.", count=pigs), changes)
