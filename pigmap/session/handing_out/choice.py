"""What of a farm can be handed out, and the table of what was asked for."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import TypeVar

from pigmap.errors import EditError, UsageError
from pigmap.ground.listed import By, listed
from pigmap.records import Farm, Field, Paddock, Record
from pigmap.records.frozen import dataclass
from pigmap.session.handing_out.corners import corners_of
from pigmap.session.handing_out.days import checks_of, stays_of
from pigmap.session.handing_out.ground_rows import ground_of
from pigmap.session.handing_out.lists import energizers_of, events_of, groups_of, net_kinds_of, purposes_of
from pigmap.session.handing_out.table import Column, Handed
from pigmap.session.handing_out.things import fields_of, keep_outs_of, paddocks_of, places_of, ways_of
from pigmap.session.session import Session
from pigmap.text import Text

R = TypeVar("R", bound=Record)


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is to be handed out."""

    what: str
    """One of `WHAT`, but for the list of nets, which has a file of its own."""
    on: date
    """The day of the ground, and of which pigs are where."""
    today: date
    field: str = ""
    """Only what belongs to the field of this name."""
    paddock: str = ""
    """Only the corners of the paddock of this name."""
    by: By = "paddock"
    """Pieces in which the ground is told."""


_TABLES: Mapping[str, Callable[[Session, Asked], Handed]] = {
    "fields": lambda session, asked: fields_of(session.farm),
    "paddocks": lambda session, asked: paddocks_of(session.farm, asked.on, asked.today),
    "corners": lambda session, asked: corners_of(session.farm, _cornered(session.farm, asked)),
    "stays": lambda session, asked: stays_of(session.farm),
    "checks": lambda session, asked: checks_of(session.farm),
    "ground": lambda session, asked: _ground(session, asked),
    "keepouts": lambda session, asked: keep_outs_of(session.farm),
    "ways": lambda session, asked: ways_of(session.farm),
    "places": lambda session, asked: places_of(session.farm),
    "purposes": lambda session, asked: purposes_of(session.farm),
    "groups": lambda session, asked: groups_of(session.farm),
    "events": lambda session, asked: events_of(session.farm),
    "energizers": lambda session, asked: energizers_of(session.farm),
    "netkinds": lambda session, asked: net_kinds_of(session.farm),
}
WHAT = (*_TABLES, "nets")
"""What can be handed out; ``nets`` only as a list, CSV."""


def handed(session: Session, asked: Asked) -> Handed:
    """Return the table of what was asked for.

    Raises
    ------
    PigmapError
        If the farm has nothing of it, or no field or paddock of the name.
    """
    table = _TABLES[asked.what](session, asked)
    if asked.field and asked.what not in ("corners", "ground"):
        table = _of_field(session.farm, table, asked)
    if not len(table):
        raise EditError(
            "{farm} has no {what} to hand out.",
            remedy="Look at the farm in the window: pigmap open {farm}.",
            farm=session.path.name,
            what=Text(_NAMES[asked.what]),
        )
    return table


_NAMES = {
    "fields": "fields",
    "paddocks": "paddocks",
    "corners": "corners of paddocks",
    "stays": "stays",
    "checks": "daily checks",
    "ground": "ground in fields",
    "keepouts": "keep-outs",
    "ways": "ways",
    "places": "places",
    "purposes": "purposes of fields",
    "groups": "groups",
    "events": "entries of groups",
    "energizers": "energizers",
    "netkinds": "net kinds",
}


def _of_field(farm: Farm, table: Handed, asked: Asked) -> Handed:
    """Return the rows of one field."""
    name = _named(farm.fields, "field", asked.field)[0].name
    column = table.column("name" if asked.what == "fields" else "field")
    if column is None:
        raise UsageError(
            "{what} belong to no field.",
            remedy="Leave --field out: all of them are handed out.",
            what=Text(_NAMES[asked.what].capitalize()),
        )
    kept = [at for at, value in enumerate(column.values) if value == name]
    columns = tuple(Column(each.name, each.kind, tuple(each.values[at] for at in kept)) for each in table.columns)
    return Handed(
        table.name,
        columns,
        tuple(table.shapes[at] for at in kept),
        tuple(table.called[at] for at in kept),
        table.begins,
        table.ends,
    )


def _cornered(farm: Farm, asked: Asked) -> list[Paddock] | list[Field]:
    """Return what the corners are of: paddocks, those of a field, one; a farm without paddocks has its fields."""
    if asked.paddock:
        return _named(farm.paddocks, "paddock", asked.paddock)
    if not asked.field:
        return list(farm.paddocks.values()) or list(farm.fields.values())
    fields = _named(farm.fields, "field", asked.field)
    uids = {row.uid for row in fields}
    return [row for row in farm.paddocks.values() if row.field_uid in uids] or fields


def _named(rows: Mapping[str, R], kind: str, name: str) -> list[R]:
    found = [row for row in rows.values() if str(getattr(row, "name", "")).casefold() == name.casefold()]
    if not found:
        names = sorted(str(getattr(row, "name", "")) for row in rows.values())
        raise UsageError(
            "There is no {kind} {name}.",
            remedy="The farm has: {names}.",
            kind=Text(kind),
            name=name,
            names=", ".join(names[:20]) or "-",
        )
    return found


def _ground(session: Session, asked: Asked) -> Handed:
    farm = session.farm
    fields = _named(farm.fields, "field", asked.field) if asked.field else list(farm.fields.values())
    fields = sorted(fields, key=lambda row: (row.name, row.uid))
    states = [session.ground.state(row.uid, asked.on, asked.today) for row in fields]
    there = [state for state in states if state is not None]
    if not there:
        return Handed("ground", (), (), ())
    return ground_of(listed(farm, there, asked.by))
