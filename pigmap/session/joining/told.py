"""What was changed in two copies of a farm, as a person reads it side by side; and taking the other value."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from pigmap.document.edits.find import name_of
from pigmap.errors import EditError
from pigmap.records import TABLES, Edit, Farm, Record, RowChange
from pigmap.records.change import change, remove
from pigmap.session.joining.apart import WHOLE_ROW
from pigmap.store import FarmFile, HistoryEntry
from pigmap.store.copies import Conflict, OpenConflict
from pigmap.store.naming import column_word, value_words
from pigmap.store.rows import codec
from pigmap.text import Text, Value


class Told(NamedTuple):
    """One thing that was changed in both copies."""

    number: int
    what: Text
    """The row, and what of it."""
    kept: Text
    """What stands, and who did it when."""
    other: Text
    conflict: Conflict


def open_conflicts(path: Path) -> tuple[list[OpenConflict], Mapping[str, HistoryEntry]]:
    """Return what nobody has settled yet in a farm file, and its edits by their uid."""
    file = FarmFile.look(path)
    try:
        return file.open_conflicts(), {each.edit_uid: each for each in file.history()}
    finally:
        file.close()


def told(farm: Farm, conflicts: Sequence[OpenConflict], edits: Mapping[str, HistoryEntry]) -> list[Told]:
    """Return conflicts in words; what is gone since needs no settling and is left out."""
    return [
        Told(number, _what(row, farm, each), _side(each, edits, kept=True), _side(each, edits, kept=False), each)
        for number, each in conflicts
        if (row := _row(farm, each)) is not None
    ]


def _row(farm: Farm, conflict: Conflict) -> Record | None:
    return farm.rows(conflict.table).get(conflict.uid) if conflict.table in TABLES else None


def _what(row: Record, farm: Farm, conflict: Conflict) -> Text:
    name = name_of(farm, row)
    if conflict.column == WHOLE_ROW:
        return Text("{name}: kept or removed", {"name": name})
    return Text("{name}: {column}", {"name": name, "column": Text(column_word(conflict.column))})


def _side(conflict: Conflict, edits: Mapping[str, HistoryEntry], *, kept: bool) -> Text:
    uid = conflict.kept_edit if kept else conflict.other_edit
    made = edits.get(uid)
    value = _value(conflict, kept=kept)
    if made is None:
        return Text("{value}", {"value": value})
    who = " at ".join(each for each in (made.made_by, made.computer) if each) or "?"
    on: dict[str, Value] = {"value": value, "who": who, "day": made.made_at.astimezone().date()}
    return Text("{value} ({who}, {day})", on)


def _value(conflict: Conflict, *, kept: bool) -> Value:
    if conflict.column == WHOLE_ROW:
        return Text("kept") if kept else Text("removed")
    return value_words(_parsed(conflict, kept=kept))


def _parsed(conflict: Conflict, *, kept: bool) -> object:
    told_as = conflict.kept if kept else conflict.other
    logged = {conflict.column: None if told_as is None else json.loads(told_as)}
    return next(iter(codec(conflict.table).values(logged).values()), None)


def take_other(conflict: Conflict) -> Edit:
    """Return the edit that has the other value stand, or removes what was kept."""

    def changes(farm: Farm) -> Sequence[RowChange]:
        row = _row(farm, conflict)
        if row is None:
            raise EditError(
                "It is gone meanwhile.", remedy="Nothing is to be settled there any more; go on with the next."
            )
        if conflict.column == WHOLE_ROW:
            return [remove(row)]
        attribute = next(each.attribute for each in codec(conflict.table).columns if each.name == conflict.column)
        return [change(row, replace(row, **{attribute: _parsed(conflict, kept=False)}))]  # type: ignore[arg-type]

    return Edit(Text("The value of the other copy taken."), changes)


def nothing() -> Edit:
    """Return the edit of someone who looked and lets it stand."""
    return Edit(Text("Looked at, and left as it is."), lambda _: ())
