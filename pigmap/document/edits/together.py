"""Several edits as one that is done, and undone, at once; and one that is asked for twice but done once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from pigmap.records import Edit, Farm, RowChange
from pigmap.text import Text


def together(label: Text, edits: Sequence[Edit]) -> Edit:
    """Return the edit that does several in order, each on the farm the one before leaves; all or none."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        rows: dict[tuple[str, str], RowChange] = {}
        for edit in edits:
            found = edit(farm)
            farm = farm.after(found)
            for row in found:
                _join(rows, row)
        return list(rows.values())

    return Edit(label, changes)


def once(edit: Edit, table: str, uid: str) -> Edit:
    """Return an edit that adds a row and changes nothing where the row is there: it may be pressed for twice."""
    return replace(edit, changes=lambda farm: [] if uid in farm.rows(table) else edit.changes(farm))


def _join(rows: dict[tuple[str, str], RowChange], row: RowChange) -> None:
    """Take in a change; two changes of one row become the one from its first state to its last."""
    key = (row.table, row.uid)
    earlier = rows.get(key)
    if earlier is None:
        rows[key] = row
    elif earlier.before is None and row.after is None:
        del rows[key]
    else:
        rows[key] = RowChange(earlier.before, row.after)
