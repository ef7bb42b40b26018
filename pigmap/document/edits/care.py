"""What is done for the pigs of a group and what befalls them: lines of the medicine book, and escapes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

import shapely

from pigmap.document.edits.find import row_of
from pigmap.records import Edit, Escape, Farm, Group, Paddock, RowChange, Treatment, add, change, new_uid
from pigmap.text import Text


def treat(
    group_uid: str,
    given_on: date,
    product: str,
    *,
    last_on: date | None = None,
    pigs: int | None = None,
    which: str = "",
    batch: str = "",
    dose: str = "",
    given_by: str = "",
    withdrawal_days: int | None = None,
    note: str = "",
    uid: str = "",
) -> Edit:
    """Return the edit that writes a line of the medicine book.

    Parameters
    ----------
    group_uid, given_on, product
        To whom, on which day, and what.
    last_on
        The last day on which it was given; None where that was the first.
    pigs, which
        How many had it and their marks; None for all of the group.
    batch, dose, given_by, note
        As they are to stand in the book.
    withdrawal_days
        As the label says; None where nobody has typed them: then no day is known from which the meat is free of it.

    Raises
    ------
    RecordError
        If a value cannot exist.
    EditError
        When it is done, if the group is gone.
    """
    row = Treatment(
        uid=uid or new_uid(),
        group_uid=group_uid,
        given_on=given_on,
        last_on=last_on,
        pigs=pigs,
        which=which,
        product=product,
        batch=batch,
        dose=dose,
        given_by=given_by,
        withdrawal_days=withdrawal_days,
        note=note,
    )

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Group, group_uid)
        return [add(row)]

    return Edit(Text("{medicine} of {day} is in the medicine book.", {"medicine": product, "day": given_on}), changes)


def record_escape(
    group_uid: str,
    happened_on: date,
    *,
    paddock_uid: str | None = None,
    point: shapely.Point | None = None,
    why: str = "",
    fence_kv: float | None = None,
    pigs_out: int | None = None,
    pigs_back: int | None = None,
    note: str = "",
    uid: str = "",
) -> Edit:
    """Return the edit that records that pigs got out; raises as `treat`, also where the paddock is gone."""
    row = Escape(
        uid=uid or new_uid(),
        group_uid=group_uid,
        paddock_uid=paddock_uid,
        happened_on=happened_on,
        point=point,
        why=why,
        fence_kv=fence_kv,
        pigs_out=pigs_out,
        pigs_back=pigs_back,
        note=note,
    )

    def changes(farm: Farm) -> Sequence[RowChange]:
        row_of(farm, Group, group_uid)
        if paddock_uid is not None:
            row_of(farm, Paddock, paddock_uid)
        return [add(row)]

    return Edit(Text("Escape of {day} recorded.", {"day": happened_on}), changes)


def place_escape(uid: str, point: shapely.Point) -> Edit:
    """Return the edit that puts right where pigs got out; raises as `treat` where the escape is gone."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        row = row_of(farm, Escape, uid)
        return [change(row, replace(row, point=point))]

    return Edit(Text("Place of the escape put right."), changes)
