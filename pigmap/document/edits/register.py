"""The register of pigs that came onto the farm and left it; pigs that are bought and sold have a line in it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from pigmap.document.edits.find import row_of
from pigmap.document.edits.groups import record_event
from pigmap.document.edits.together import together
from pigmap.records import (
    Direction,
    Edit,
    Farm,
    Group,
    GroupEventKind,
    RegisterEntry,
    RowChange,
    SlaughterBooking,
    add,
    new_uid,
)
from pigmap.text import Text


def enter_in_register(
    direction: Direction,
    happened_on: date,
    pigs: int,
    *,
    mark: str = "",
    from_where: str = "",
    to_where: str = "",
    group_uid: str | None = None,
    booking_uid: str | None = None,
    note: str = "",
    uid: str = "",
) -> Edit:
    """Return the edit that writes a line of the register, and nothing else.

    Raises
    ------
    RecordError
        If a value cannot exist.
    EditError
        When it is done, if the group or the booking is gone.
    """
    row = RegisterEntry(
        uid=uid or new_uid(),
        happened_on=happened_on,
        direction=direction,
        pigs=pigs,
        mark=mark,
        from_where=from_where,
        to_where=to_where,
        group_uid=group_uid,
        booking_uid=booking_uid,
        note=note,
    )

    def changes(farm: Farm) -> Sequence[RowChange]:
        if group_uid is not None:
            row_of(farm, Group, group_uid)
        if booking_uid is not None:
            row_of(farm, SlaughterBooking, booking_uid)
        return [add(row)]

    return Edit(_label(direction, happened_on, pigs), changes)


def _label(direction: Direction, on: date, pigs: int) -> Text:
    if direction is Direction.ON:
        return Text("1 pig came on {day}.", {"day": on}, plural="{count} pigs came on {day}.", count=pigs)
    return Text("1 pig left on {day}.", {"day": on}, plural="{count} pigs left on {day}.", count=pigs)


def pigs_bought(
    group_uid: str,
    on: date,
    pigs: int,
    *,
    mean_kg: float | None = None,
    mark: str = "",
    from_where: str = "",
    register: bool | None = None,
) -> Edit:
    """Return the edit that records that pigs came to a group from elsewhere.

    Parameters
    ----------
    group_uid, on, pigs, mean_kg
        To whom, when, how many, and what one weighed [kg].
    mark, from_where
        As they are to stand in the register.
    register
        Whether it has a line in the register; None where that follows from mark and from where: one of them given.
    """
    edits = [record_event(group_uid, on, GroupEventKind.BOUGHT, pigs=pigs, mean_kg=mean_kg)]
    if bool(mark or from_where) if register is None else register:
        line = enter_in_register(Direction.ON, on, pigs, mark=mark, from_where=from_where, group_uid=group_uid)
        edits.append(line)
    return together(_label(Direction.ON, on, pigs), edits)


def pigs_sold(
    group_uid: str,
    on: date,
    pigs: int,
    *,
    mean_kg: float | None = None,
    mark: str = "",
    to_where: str = "",
    register: bool = True,
) -> Edit:
    """Return the edit that records that pigs of a group left the farm, with a line in the register."""
    edits = [record_event(group_uid, on, GroupEventKind.SOLD, pigs=pigs, mean_kg=mean_kg)]
    if register:
        line = enter_in_register(Direction.OFF, on, pigs, mark=mark, to_where=to_where, group_uid=group_uid)
        edits.append(line)
    return together(_label(Direction.OFF, on, pigs), edits)
