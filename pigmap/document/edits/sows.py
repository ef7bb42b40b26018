"""Sows that a farm follows one by one: served, due, farrowed, weaned."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from pigmap.document.edits.find import row_of, rows_with
from pigmap.document.edits.groups import free_colour
from pigmap.errors import EditError
from pigmap.records import (
    Edit,
    Farm,
    Group,
    GroupEvent,
    GroupEventKind,
    Litter,
    PigClass,
    RowChange,
    add,
    change,
    new_uid,
)
from pigmap.records.frozen import dataclass
from pigmap.text import Text


def open_litters(farm: Farm, group_uid: str) -> list[Litter]:
    """Return the litters of a group that are not weaned yet, the one that was told of last at the end."""
    return [each for each in rows_with(farm, Litter, "group_uid", group_uid) if each.weaned_on is None]


def _of_sow(farm: Farm, group_uid: str, sow: str, *, farrowed: bool) -> Litter | None:
    named = sow.strip().casefold()
    found = [
        each
        for each in open_litters(farm, group_uid)
        if each.sow.strip().casefold() == named and (each.farrowed_on is not None) is farrowed
    ]
    return found[-1] if found else None


def serve(
    group_uid: str, sow: str, on: date | None, *, due_on: date | None = None, note: str = "", uid: str = ""
) -> Edit:
    """Return the edit that records that a sow was served, or when she is due.

    A sow that was served before and has not farrowed is served anew: the later day counts.

    Parameters
    ----------
    group_uid, sow
        In which group, and her name, tag or mark.
    on
        The day of service; None where only the day she is due is known.
    due_on
        The day she is due, where it was told; None lets it follow from the service.

    Raises
    ------
    RecordError
        If a value cannot exist.
    EditError
        If no day is given; when it is done, if the group is gone.
    """
    if on is None and due_on is None:
        raise EditError("No day is given.", remedy="Give the day she was served, or the day she is due.")
    row = Litter(uid=uid or new_uid(), group_uid=group_uid, sow=sow.strip(), served_on=on, due_on=due_on, note=note)

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Group, group_uid)
        told = _of_sow(farm, group_uid, sow, farrowed=False)
        if told is None:
            return [add(row)]
        now = replace(told, served_on=on or told.served_on, due_on=due_on, note=note or told.note)
        return [] if now == told else [change(told, now)]

    if on is None:
        assert due_on is not None
        return Edit(Text("{sow} is due on {day}.", {"sow": sow.strip(), "day": due_on}), changes)
    return Edit(Text("{sow} served on {day}.", {"sow": sow.strip(), "day": on}), changes)


def farrow(
    group_uid: str, sow: str, on: date, *, born: int | None = None, count_piglets: bool = False, uid: str = ""
) -> Edit:
    """Return the edit that records that a sow farrowed; one whose service nobody told of has her litter from now on.

    Parameters
    ----------
    born
        How many piglets were born alive.
    count_piglets
        Whether they count as pigs of the group from then on. A sow and her litter count as one else, until weaning.

    Raises
    ------
    RecordError
        If a value cannot exist.
    EditError
        When it is done, if the group is gone.
    """
    row = Litter(uid=uid or new_uid(), group_uid=group_uid, sow=sow.strip(), farrowed_on=on, born=born)
    event_uid = new_uid()

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Group, group_uid)
        told = _of_sow(farm, group_uid, sow, farrowed=False)
        rows = [add(row) if told is None else change(told, replace(told, farrowed_on=on, born=born))]
        if count_piglets and born:
            kind = GroupEventKind.BORN
            rows.append(add(GroupEvent(uid=event_uid, group_uid=group_uid, happened_on=on, kind=kind, pigs=born)))
        return rows

    return Edit(Text("{sow} farrowed on {day}.", {"sow": sow.strip(), "day": on}), changes)


@dataclass(frozen=True, slots=True, kw_only=True)
class WeanedTo:
    """Where the weaned pigs went: to a group that is there, or to one that begins with them."""

    group_uid: str
    new_name: str = ""
    """What the group is called where it begins with them."""
    mean_kg: float | None = None
    """What one of them weighs [kg]."""


def wean(
    group_uid: str, sow: str, on: date, *, weaned: int | None = None, to: WeanedTo | None = None, uid: str = ""
) -> Edit:
    """Return the edit that records that the piglets of a sow were weaned, and splits them off where told so.

    They leave the sow's group only where they were counted in it when they were born.

    Raises
    ------
    RecordError
        If a value cannot exist.
    EditError
        When it is done, if a group is gone.
    """
    row = Litter(uid=uid or new_uid(), group_uid=group_uid, sow=sow.strip(), weaned_on=on, weaned=weaned)
    uids = new_uid(), new_uid(), new_uid()
    group_to = to.group_uid if to is not None else None

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Group, group_uid)
        told = _of_sow(farm, group_uid, sow, farrowed=True) or _of_sow(farm, group_uid, sow, farrowed=False)
        begun = list(_new_group(farm, to))
        litter = replace(told or row, weaned_on=on, weaned=weaned, weaned_group_uid=group_to)
        event = GroupEvent(uid=uids[0], group_uid=group_uid, happened_on=on, kind=GroupEventKind.WEANED, pigs=weaned)
        rows = [*begun, add(litter) if told is None else change(told, litter)]
        if to is None or not weaned:
            return [*rows, add(event)]
        rows.append(add(replace(event, other_group_uid=to.group_uid, mean_kg=to.mean_kg)))
        if _counted(farm, litter):
            split = replace(event, uid=uids[1], kind=GroupEventKind.SPLIT, other_group_uid=to.group_uid)
            rows.append(add(split))
        came = replace(event, uid=uids[2], group_uid=to.group_uid, kind=GroupEventKind.JOINED)
        return [*rows, add(replace(came, other_group_uid=group_uid, mean_kg=to.mean_kg))]

    return Edit(Text("Piglets of {sow} weaned on {day}.", {"sow": sow.strip(), "day": on}), changes)


def _new_group(farm: Farm, to: WeanedTo | None) -> Iterator[RowChange]:
    if to is None:
        return
    if not to.new_name:
        row_of(farm, Group, to.group_uid)
        return
    yield add(Group(uid=to.group_uid, name=to.new_name, pig_class=PigClass.WEANED, colour_index=free_colour(farm)))


def _counted(farm: Farm, litter: Litter) -> bool:
    """Whether the piglets of a litter count as pigs of the sow's group since they were born."""
    return any(
        event.kind is GroupEventKind.BORN and event.happened_on == litter.farrowed_on
        for event in rows_with(farm, GroupEvent, "group_uid", litter.group_uid)
    )
