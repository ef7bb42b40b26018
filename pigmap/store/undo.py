"""The changes that take an edit back, refused where its rows were changed again since."""

from __future__ import annotations

from collections.abc import Iterable

from pigmap.errors import EditError
from pigmap.records import Farm, Record, RowChange
from pigmap.store.log import LogRow, Shown
from pigmap.store.naming import called, column_word, table_word, value_words
from pigmap.store.rows import codec
from pigmap.text import Text


def inverse(label: Text, rows: Iterable[LogRow], farm: Farm) -> list[RowChange]:
    """Return the changes that take an edit's log rows back on the farm as it is now.

    Raises
    ------
    EditError
        If a row is no longer as the edit left it.
    """
    shown = Shown(farm)
    changes = []
    for row in sorted(rows, key=lambda row: row.change_id, reverse=True):
        change = _inverse(label, row, shown.row(row.table, row.uid))
        shown.put(row.table, row.uid, change.after)
        changes.append(change)
    return changes


def _inverse(label: Text, row: LogRow, now: Record | None) -> RowChange:
    to_and_from = codec(row.table)
    if row.after is None:
        removed = to_and_from.made(row.uid, row.before or {})
        if now is not None:
            raise _in_the_way(label, removed, Text("removed"), Text("there again"))
        return RowChange(None, removed)
    if now is None:
        raise _gone(label, row)
    for attribute, left in to_and_from.values(row.after).items():
        found = getattr(now, attribute)
        if found != left:
            raise _changed_since(label, now, attribute, left, found)
    if row.before is None:
        return RowChange(now, None)
    return RowChange(now, to_and_from.changed(now, row.before))


_REMEDY = "Change it by hand if it should be as it was before."


def _changed_since(label: Text, now: Record, attribute: str, left: object, found: object) -> EditError:
    return EditError(
        "“{label}” cannot be taken back: {what} of {row} was {left} after it and is {found} now.",
        remedy=_REMEDY,
        label=label,
        what=column_word(attribute),
        row=called(now),
        left=value_words(left),
        found=value_words(found),
    )


def _in_the_way(label: Text, row: Record, left: Text, found: Text) -> EditError:
    return EditError(
        "“{label}” cannot be taken back: {row} was {left} by it and is {found} now.",
        remedy=_REMEDY,
        label=label,
        row=called(row),
        left=left,
        found=found,
    )


def _gone(label: Text, row: LogRow) -> EditError:
    after = row.after or {}
    name = after.get("name") or after.get("key") or row.uid
    return EditError(
        "“{label}” cannot be taken back: {name} ({table}) was there after it and was removed since.",
        remedy="Add it again by hand if it should be there.",
        label=label,
        name=str(name),
        table=table_word(row.table),
    )
