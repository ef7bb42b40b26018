"""Rows that an edit is about, or the words that say they are gone."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeVar

from pigmap.errors import EditError
from pigmap.records import TABLES, Farm, Record
from pigmap.text import Text

R = TypeVar("R", bound=Record)

_WORDS: dict[str, str] = {
    "fields": "field",
    "purposes": "purpose",
    "keep_outs": "keep-out",
    "ways": "way",
    "places": "place",
    "paddocks": "paddock",
    "groups": "group",
    "group_events": "entry of the group",
    "stays": "stay",
    "net_kinds": "net kind",
    "nets": "net",
    "net_uses": "place of a net",
    "checks": "daily check",
    "images": "image",
    "weather_days": "day of weather",
    "settings": "setting",
    "ground_jobs": "ground job",
    "energizers": "energizer",
    "energizer_readings": "reading of an energizer",
    "net_repairs": "repair of a net",
    "treatments": "line of the medicine book",
    "escapes": "escape",
    "litters": "litter",
    "slaughter_bookings": "slaughter booking",
    "register_entries": "line of the register",
    "own_days": "figure for how long a paddock lasts",
    "terrains": "terrain image",
    "moves": "time of a move",
    "photos": "photo",
    "gear_places": "place of gear",
    "flow_lines": "flow line",
}


def kind_in_words(table: str) -> Text:
    """Return what a row of a table is called."""
    return Text(_WORDS[table])


def name_of(farm: Farm, row: Record) -> Text:
    """Return what a person calls a row: its own name, or that of what it belongs to."""
    name = getattr(row, "name", "") or getattr(row, "number", "") or getattr(row, "key", "")
    if name:
        return Text("{name}", {"name": name})
    for table, column in (("groups", "group_uid"), ("paddocks", "paddock_uid"), ("fields", "field_uid")):
        of = farm.rows(table).get(getattr(row, column, None) or "")
        if of is not None:
            return Text("the {kind} of {name}", {"kind": kind_in_words(row.TABLE), "name": name_of(farm, of)})
    reason = getattr(row, "reason", None) or getattr(row, "kind", None)
    return (
        Text("the {kind}", {"kind": Text(str(reason))})
        if reason
        else Text("the {kind}", {"kind": kind_in_words(row.TABLE)})
    )


def row_of(farm: Farm, kind: type[R], uid: str) -> R:
    """Return a row of the farm.

    Raises
    ------
    EditError
        If it is not there any more.
    """
    row = farm.rows(kind.TABLE).get(uid)
    if row is None:
        raise gone(kind.TABLE)
    assert isinstance(row, kind)
    return row


def any_row(farm: Farm, table: str, uid: str) -> Record:
    """Return a row of a table by the table's name; as `row_of`."""
    return row_of(farm, TABLES[table], uid)


def gone(table: str) -> EditError:
    """Return the words for a row that is not there any more."""
    return EditError(
        "The {kind} is not there any more: it was removed meanwhile.",
        remedy="Undo brings it back, or choose another {kind}.",
        kind=kind_in_words(table),
    )


def rows_with(farm: Farm, kind: type[R], column: str, uid: str) -> Iterator[R]:
    """Yield the rows of a table that point at another row."""
    for row in farm.rows(kind.TABLE).values():
        if getattr(row, column) == uid:
            assert isinstance(row, kind)
            yield row
