"""Rows that were brought in a file, taken in at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from pigmap.document.edits.choices import change_setting
from pigmap.document.edits.find import any_row
from pigmap.document.edits.paddocks import with_outline
from pigmap.document.edits.stays import left_running
from pigmap.records import Edit, Farm, Paddock, Record, RowChange, Stay, StayState, add, change
from pigmap.records.frozen import dataclass
from pigmap.text import Text


@dataclass(frozen=True, slots=True)
class Amended:
    """Columns of a row of the farm that a file tells otherwise."""

    table: str
    uid: str
    columns: Mapping[str, Any]


def take_in_rows(
    label: Text,
    added: Sequence[Record],
    amended: Sequence[Amended] = (),
    *,
    setting: tuple[str, Any] | None = None,
) -> Edit:
    """Return the edit that takes in what a file brought, all of it or nothing.

    A running stay that is added ends the one its group was on, as if it were recorded by hand. `setting` is a key
    and its new value.
    """

    def changes(farm: Farm) -> Sequence[RowChange]:
        found: dict[tuple[str, str], RowChange] = {}
        for each in amended:
            row = any_row(farm, each.table, each.uid)
            for changed in _amended(farm, row, replace(row, **each.columns)):
                _put(found, changed)
        for new in added:
            for left in _left(farm, new):
                _put(found, left)
            _put(found, add(new))
        rows = list(found.values())
        if setting is not None:
            rows += change_setting(*setting)(farm)
        return [row for row in rows if row.before != row.after]

    return Edit(label, changes)


def _amended(farm: Farm, before: Record, after: Record) -> Sequence[RowChange]:
    """Return what a row told otherwise changes: running and planned stays follow a paddock that is redrawn."""
    if isinstance(before, Paddock) and isinstance(after, Paddock) and before.outline != after.outline:
        return with_outline(farm, before, after)
    return [change(before, after)]


def _put(found: dict[tuple[str, str], RowChange], row: RowChange) -> None:
    """Keep the first change of a row: what the file says of it stands."""
    found.setdefault((row.table, row.uid), row)


def _left(farm: Farm, row: Record) -> Sequence[RowChange]:
    if isinstance(row, Stay) and row.state is StayState.RUNNING:
        return left_running(farm, row.group_uid, row.in_on)
    return ()
