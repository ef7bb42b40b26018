"""Stays: plan them, shift them, record what happened."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

import shapely

from pigmap.document.edits.find import row_of, rows_with
from pigmap.document.edits.taken_up import taken_up
from pigmap.errors import EditError
from pigmap.records import Edit, Farm, Group, Paddock, RowChange, Stay, StayState, add, change, new_uid
from pigmap.records.keepers_days import USUAL_DAYS, keepers_days
from pigmap.text import Text


def usual_days(farm: Farm, group_uid: str, day: date | None = None, field_uid: str | None = None) -> int:
    """Return how many days a group usually stays: as the keeper says, else as its last stays were, else `USUAL_DAYS`.

    With the day on which it comes and the field of its paddock, what holds for a part of the year and for what the
    field is for counts too.
    """
    known = keepers_days(farm, group_uid, day, field_uid)
    return max(1, round(known.days)) if known is not None else USUAL_DAYS


def plan_stay(
    group_uid: str, paddock_uid: str, in_on: date, out_on: date | None = None, *, why: str = "", uid: str = ""
) -> Edit:
    """Return the edit that plans a stay; without a day out it takes the group's usual days.

    A running or planned stay of the group that would go on beyond the day in ends on that day.
    """
    stay_uid = uid or new_uid()

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Group, group_uid)
        paddock = row_of(farm, Paddock, paddock_uid)
        return planned(farm, paddock, group_uid, in_on, out_on, why=why, uid=stay_uid)

    return Edit(Text("Stay planned from {day}.", {"day": in_on}), changes)


def planned(
    farm: Farm, paddock: Paddock, group_uid: str, in_on: date, out_on: date | None, *, why: str, uid: str
) -> list[RowChange]:
    """Return the rows of a planned stay on a paddock, and of the one before that now ends."""
    stay = Stay(
        uid=uid,
        group_uid=group_uid,
        paddock_uid=paddock.uid,
        ground=paddock.outline,
        state=StayState.PLANNED,
        in_on=in_on,
        out_on=out_on or in_on + timedelta(days=usual_days(farm, group_uid, in_on, paddock.field_uid)),
        why_planned=why,
    )
    return [*_handed_over(farm, group_uid, in_on), add(stay)]


def _handed_over(farm: Farm, group_uid: str, on: date) -> list[RowChange]:
    """Return the ends of the stays that a group leaves when it moves on."""
    return [
        change(stay, replace(stay, out_on=on))
        for stay in rows_with(farm, Stay, "group_uid", group_uid)
        if stay.state is not StayState.PAST and stay.in_on < on and (stay.out_on is None or stay.out_on > on)
    ]


def change_stay(uid: str, in_on: date, out_on: date | None, *, with_next: bool = True) -> Edit:
    """Return the edit that gives a stay other days.

    With `with_next`, planned stays that follow it without a day between shift with its end, and the one before
    ends when it begins. Recorded stays stand for themselves: only their own days change.
    """

    def changes(farm: Farm) -> Sequence[RowChange]:
        before = row_of(farm, Stay, uid)
        after = _with_days(before, in_on, out_on)
        rows = [change(before, after)]
        if with_next and before.state is StayState.PLANNED:
            rows += _neighbours(farm, before, after)
        return rows

    return Edit(Text("Stay changed to begin on {day}.", {"day": in_on}), changes)


def _with_days(stay: Stay, in_on: date, out_on: date | None) -> Stay:
    if out_on is not None and out_on <= in_on and stay.state is StayState.PLANNED:
        raise EditError(
            "The stay would go out on {out} and come in on {into}.",
            remedy="Give it at least one day.",
            out=out_on,
            into=in_on,
        )
    if out_on is None and stay.state is StayState.PAST:
        return replace(stay, in_on=in_on, out_on=None, state=StayState.RUNNING)
    return replace(stay, in_on=in_on, out_on=out_on)


def _neighbours(farm: Farm, before: Stay, after: Stay) -> list[RowChange]:
    rows = []
    others = [stay for stay in rows_with(farm, Stay, "group_uid", before.group_uid) if stay.uid != before.uid]
    for stay in others:
        if stay.state is not StayState.PAST and stay.out_on == before.in_on and stay.in_on < after.in_on:
            rows.append(change(stay, replace(stay, out_on=after.in_on)))
    return rows + _shifted_on(others, before.out_on, after.out_on)


def _shifted_on(others: Sequence[Stay], was_out: date | None, now_out: date | None) -> list[RowChange]:
    if was_out is None or now_out is None or was_out == now_out:
        return []
    rows = []
    shift, end = now_out - was_out, was_out
    for stay in sorted(others, key=lambda stay: (stay.in_on, stay.uid)):
        if stay.state is StayState.PLANNED and stay.in_on == end and stay.out_on is not None:
            end = stay.out_on
            rows.append(change(stay, replace(stay, in_on=stay.in_on + shift, out_on=stay.out_on + shift)))
    return rows


def record_stay(
    group_uid: str,
    paddock_uid: str,
    in_on: date,
    out_on: date | None = None,
    *,
    ground: shapely.Polygon | None = None,
    uid: str = "",
) -> Edit:
    """Return the edit that records a stay: past with a day out, running without.

    A fact is never refused: what is out of the ordinary (two groups met, outside the fields, in a keep-out) follows
    from the farm as it is now, and is said wherever the stay is shown. A running stay of the group ends when the new
    one begins.
    """
    stay_uid = uid or new_uid()

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Group, group_uid)
        paddock = row_of(farm, Paddock, paddock_uid)
        stay = Stay(
            uid=stay_uid,
            group_uid=group_uid,
            paddock_uid=paddock.uid,
            ground=paddock.outline if ground is None else ground,
            state=StayState.RUNNING if out_on is None else StayState.PAST,
            in_on=in_on,
            out_on=out_on,
        )
        left = left_running(farm, group_uid, in_on) if out_on is None else []
        return [*left, add(stay)]

    return Edit(Text("Stay from {day} recorded.", {"day": in_on}), changes)


def left_running(farm: Farm, group_uid: str, on: date) -> list[RowChange]:
    """Return the running stays that a group has left when it is elsewhere."""
    return [
        change(stay, replace(stay, out_on=on, state=StayState.PAST))
        for stay in rows_with(farm, Stay, "group_uid", group_uid)
        if stay.state is StayState.RUNNING and stay.in_on <= on
    ]


def begin_stay(uid: str, on: date) -> Edit:
    """Return the edit that records that a planned stay began: the group moved on that day.

    The nets round the old ground are taken up, but for those that the new one uses too. Said again of a stay that
    began on that day it changes nothing.
    """

    def changes(farm: Farm) -> Sequence[RowChange]:
        stay = row_of(farm, Stay, uid)
        if stay.state is not StayState.PLANNED and stay.in_on == on:
            return []
        out_on = stay.out_on if stay.out_on is not None and stay.out_on > on else None
        begun = replace(stay, state=StayState.RUNNING, in_on=on, out_on=out_on)
        left = [row for row in left_running(farm, stay.group_uid, on) if row.uid != uid]
        old = [row.before for row in left if isinstance(row.before, Stay)]
        return [*left, change(stay, begun), *taken_up(farm, old, on, stay.ground)]

    return Edit(Text("Moved on {day}.", {"day": on}), changes)


def end_stay(uid: str, on: date) -> Edit:
    """Return the edit that records that the pigs left on a day."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        stay = row_of(farm, Stay, uid)
        return [change(stay, replace(stay, state=StayState.PAST, out_on=on))]

    return Edit(Text("Left on {day}.", {"day": on}), changes)
