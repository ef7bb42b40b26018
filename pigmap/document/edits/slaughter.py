"""Slaughter bookings: which pigs are expected when, that they went, and their dead weights."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from pigmap.document.edits.find import row_of, rows_with
from pigmap.records import (
    Direction,
    Edit,
    Farm,
    Group,
    GroupEvent,
    GroupEventKind,
    Place,
    RegisterEntry,
    RowChange,
    SlaughterBooking,
    add,
    change,
    new_uid,
    remove,
)
from pigmap.records.frozen import dataclass
from pigmap.text import Text


def book_slaughter(
    goes_on: date,
    *,
    group_uid: str | None = None,
    pigs: int | None = None,
    least_kg: float | None = None,
    place_uid: str | None = None,
    note: str = "",
    uid: str = "",
) -> Edit:
    """Return the edit that books pigs for slaughter.

    Parameters
    ----------
    goes_on
        The day they leave.
    group_uid
        Of whom; None while that is not decided.
    pigs, least_kg
        How many, and the live weight from which one is heavy enough [kg].
    place_uid
        Where they are loaded.

    Raises
    ------
    RecordError
        If a value cannot exist.
    EditError
        When it is done, if the group or the place is gone.
    """
    row = SlaughterBooking(
        uid=uid or new_uid(),
        group_uid=group_uid,
        goes_on=goes_on,
        pigs=pigs,
        least_kg=least_kg,
        place_uid=place_uid,
        note=note,
    )

    def changes(farm: Farm) -> Sequence[RowChange]:
        if group_uid is not None:
            row_of(farm, Group, group_uid)
        if place_uid is not None:
            row_of(farm, Place, place_uid)
        return [add(row)]

    return Edit(Text("Booked for slaughter on {day}.", {"day": goes_on}), changes)


@dataclass(frozen=True, slots=True, kw_only=True)
class Went:
    """What is told of the pigs of a booking that went."""

    on: date
    gone: int
    live_kg: float | None = None
    """Mean live weight, where they were weighed [kg]."""
    dead_kg: float | None = None
    """Mean dead weight, from the butcher's note [kg]."""
    mark: str = ""
    to_where: str = ""


def they_went(booking_uid: str, went: Went) -> Edit:
    """Return the edit that records that the pigs of a booking went: they leave the group and the register.

    Told again, it puts right what was told before; none that went takes that away.

    Raises
    ------
    RecordError
        When it is done, if a value cannot exist.
    EditError
        When it is done, if the booking is gone.
    """
    uids = new_uid(), new_uid()

    def changes(farm: Farm) -> Sequence[RowChange]:
        booking = row_of(farm, SlaughterBooking, booking_uid)
        now = replace(booking, goes_on=went.on, gone=went.gone, dead_kg=went.dead_kg)
        return [
            *([] if now == booking else [change(booking, now)]),
            *_left_group(farm, booking, went, uids[0]),
            *_left_register(farm, booking, went, uids[1]),
        ]

    one, many = "1 pig went on {day}.", "{count} pigs went on {day}."
    return Edit(Text(one, {"day": went.on}, plural=many, count=went.gone), changes)


def _left_group(farm: Farm, booking: SlaughterBooking, went: Went, uid: str) -> Iterator[RowChange]:
    if booking.group_uid is None:
        return
    told = next(
        (
            event
            for event in rows_with(farm, GroupEvent, "group_uid", booking.group_uid)
            if event.kind is GroupEventKind.SOLD
            and event.happened_on == booking.goes_on
            and booking.gone
            and event.pigs == booking.gone
        ),
        None,
    )
    if not went.gone:
        yield from (remove(told),) if told is not None else ()
    elif told is not None:
        yield change(told, replace(told, happened_on=went.on, pigs=went.gone, mean_kg=went.live_kg or told.mean_kg))
    else:
        yield add(
            GroupEvent(
                uid=uid,
                group_uid=booking.group_uid,
                happened_on=went.on,
                kind=GroupEventKind.SOLD,
                pigs=went.gone,
                mean_kg=went.live_kg,
            )
        )


def _left_register(farm: Farm, booking: SlaughterBooking, went: Went, uid: str) -> Iterator[RowChange]:
    told = next(rows_with(farm, RegisterEntry, "booking_uid", booking.uid), None)
    if not went.gone:
        yield from (remove(told),) if told is not None else ()
    elif told is not None:
        mark, to_where = went.mark or told.mark, went.to_where or told.to_where
        yield change(told, replace(told, happened_on=went.on, pigs=went.gone, mark=mark, to_where=to_where))
    else:
        yield add(
            RegisterEntry(
                uid=uid,
                happened_on=went.on,
                direction=Direction.OFF,
                pigs=went.gone,
                mark=went.mark,
                to_where=went.to_where,
                group_uid=booking.group_uid,
                booking_uid=booking.uid,
            )
        )
