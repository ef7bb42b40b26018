"""Rows of a farm by the names that people write in tables."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from difflib import get_close_matches
from typing import Any, TypeVar

from pigmap.errors import RecordError
from pigmap.records import Energizer, Farm, Field, Group, NetKind, Paddock, Place, Record
from pigmap.session.handing_out.library import LONGEST_TEXT
from pigmap.session.handing_out.order import counted
from pigmap.session.taking_in.values import nothing, plainly, told, words
from pigmap.text import Text

R = TypeVar("R", bound=Record)
MOST_NAMED = 12
"""Names of the farm that a refusal lists."""


class Named:
    """What a farm has of each kind that tables point at, by its names."""

    def __init__(self, farm: Farm) -> None:
        self._farm = farm
        self._groups: dict[str, list[Group]] = _by_name(farm.groups.values())
        self._paddocks: dict[str, list[Paddock]] = _by_name(farm.paddocks.values())
        self._fields: dict[str, list[Field]] = _by_name(farm.fields.values())
        self._net_kinds: dict[str, list[NetKind]] = _by_name(farm.net_kinds.values())
        self._energizers: dict[str, list[Energizer]] = _by_name(farm.energizers.values())
        self._places: dict[str, list[Place]] = _by_name(farm.places.values())

    def group(self, value: Any) -> Group:
        """Return the group of a name.

        Raises
        ------
        RecordError
            If there is none, or several.
        """
        return _one(self._groups, value, Text("group"))

    def paddock(self, value: Any, field: Any = None) -> Paddock:
        """Return the paddock of a name, where several have it the one in a field; as `group`."""
        rows = self._paddocks.get(known_as(value), [])
        in_field = known_as(field)
        if len(rows) > 1 and in_field:
            uids = {row.uid for row in self._farm.fields.values() if known_as(row.name) == in_field}
            rows = [row for row in rows if row.field_uid in uids] or rows
            return _one({known_as(value): rows}, value, Text("paddock"))
        return _one(self._paddocks, value, Text("paddock"))

    def field(self, value: Any) -> Field:
        """Return the field of a name; as `group`."""
        return _one(self._fields, value, Text("field"))

    def net_kind(self, value: Any) -> NetKind:
        """Return the net kind of a name; as `group`."""
        return _one(self._net_kinds, value, Text("net kind"))

    def energizer(self, value: Any) -> Energizer:
        """Return the energizer of a name; as `group`."""
        return _one(self._energizers, value, Text("energizer"))

    def place(self, value: Any) -> Place:
        """Return the place of a name; as `group`."""
        return _one(self._places, value, Text("place"))


def _one(rows: Mapping[str, list[R]], value: Any, kind: Text) -> R:
    found = rows.get(known_as(value), []) or _begun(rows, words(value))
    if len(found) == 1:
        return found[0]
    if found:
        remedy = "Give the field too, in a column of its own, or other names."
        raise RecordError(
            "there are {count} {kind}s called '{told}'.",
            remedy=remedy if kind.id == "paddock" else "Give them other names.",
            count=len(found),
            kind=kind,
            told=told(value),
        )
    if nothing(value):
        raise RecordError("no {kind} is named.", remedy="Write its name.", kind=kind)
    names = sorted((str(getattr(row, "name", "")) for each in rows.values() for row in each), key=counted)
    if not names:
        raise RecordError(
            "there is no {kind} '{told}': the farm has none yet.",
            remedy="Add it first, then take the file in again.",
            kind=kind,
            told=told(value),
        )
    close = get_close_matches(known_as(value), rows, n=1)
    near = [str(getattr(rows[each][0], "name", "")) for each in close]
    raise RecordError(
        "there is no {kind} '{told}'.",
        remedy="Did you mean {names}?" if near else "The farm has: {names}.",
        kind=kind,
        told=told(value),
        names=near[0] if near else _listed(names),
    )


def _begun(rows: Mapping[str, list[R]], name: str) -> list[R]:
    """Return the rows whose name begins so, where it is so long that a Shapefile has cut it."""
    if len(name.encode()) < LONGEST_TEXT - 4:
        return []
    return [row for known, each in rows.items() if known.startswith(known_as(name)) for row in each]


def _listed(names: Sequence[str]) -> str:
    more = len(names) - MOST_NAMED
    return ", ".join(names[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def _by_name(rows: Iterable[Any]) -> dict[str, list[Any]]:
    found: dict[str, list[Any]] = {}
    for row in rows:
        found.setdefault(known_as(row.name), []).append(row)
    return found


def known_as(name: Any) -> str:
    """Return a name as it is looked for: without regard to capitals, spaces and letters that some files cannot hold."""
    return plainly(words(name)).casefold()
