"""Rows of a file as stays and daily checks of the farm: facts, which are taken wherever a value is possible."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from difflib import get_close_matches
from typing import Any, TypeVar

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.document.edits.taken_in import Amended
from pigmap.document.incoming import Incoming
from pigmap.errors import PigmapError, RecordError
from pigmap.records import Check, Farm, Group, Paddock, Record, Stay, StayState
from pigmap.session.handing_out.days import MIDDLE
from pigmap.session.handing_out.order import counted
from pigmap.session.intake import There
from pigmap.session.taking_in.columns import Columns
from pigmap.session.taking_in.outlines import rings_closed
from pigmap.session.taking_in.result import TakenRow, refused
from pigmap.session.taking_in.values import Days, nothing, number, told, truth, whole, words
from pigmap.session.taking_in.where import Placed
from pigmap.text import Text

R = TypeVar("R", bound=Record)
MOST_NAMED = 12
"""Names of the farm that a refusal lists."""


class Named:
    """The groups and paddocks of a farm by the names that people write."""

    def __init__(self, farm: Farm) -> None:
        self._farm = farm
        self._groups: dict[str, list[Group]] = _by_name(farm.groups.values())
        self._paddocks: dict[str, list[Paddock]] = _by_name(farm.paddocks.values())

    def group(self, value: Any) -> Group:
        """Return the group of a name.

        Raises
        ------
        RecordError
            If there is none, or several.
        """
        return self._one(self._groups, value, Text("group"))

    def paddock(self, value: Any, field: Any = None) -> Paddock:
        """Return the paddock of a name, where several have it the one in a field; as `group`."""
        rows = self._paddocks.get(_known_as(value), [])
        in_field = _known_as(field)
        if len(rows) > 1 and in_field:
            uids = {row.uid for row in self._farm.fields.values() if _known_as(row.name) == in_field}
            rows = [row for row in rows if row.field_uid in uids] or rows
            return self._one({_known_as(value): rows}, value, Text("paddock"))
        return self._one(self._paddocks, value, Text("paddock"))

    def _one(self, rows: Mapping[str, list[R]], value: Any, kind: Text) -> R:
        found = rows.get(_known_as(value), [])
        if len(found) == 1:
            return found[0]
        if found:
            raise RecordError(
                "there are {count} {kind}s called '{told}'.",
                remedy="Give the field too, in a column of its own, or other names.",
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
        close = get_close_matches(_known_as(value), rows, n=1)
        near = [str(getattr(rows[each][0], "name", "")) for each in close]
        raise RecordError(
            "there is no {kind} '{told}'.",
            remedy="Did you mean {names}?" if near else "The farm has: {names}.",
            kind=kind,
            told=told(value),
            names=near[0] if near else _listed(names),
        )


def _listed(names: Sequence[str]) -> str:
    more = len(names) - MOST_NAMED
    return ", ".join(names[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def _by_name(rows: Any) -> dict[str, list[Any]]:
    found: dict[str, list[Any]] = {}
    for row in rows:
        found.setdefault(_known_as(row.name), []).append(row)
    return found


def _known_as(name: Any) -> str:
    return " ".join(words(name).casefold().split())


def stays_out_of(placed: Placed, columns: Columns, file: str, farm: Farm, today: date) -> list[TakenRow]:
    """Return what becomes of each row as a stay."""
    days = _days(placed, columns, file, ("in", "out"))
    known = {_fact(stay): stay for stay in farm.stays.values()}

    def stay_of(
        row: Incoming, there: There, given: Mapping[str, Any], named: Named, said: list[Text]
    ) -> dict[str, Any]:
        paddock = named.paddock(given.get("paddock"), given.get("field"))
        group = named.group(given.get("group"))
        into = days.day(given.get("in"), "the day in")
        if into is None:
            raise RecordError("no day in is given.", remedy="Write the day on which the group came.")
        out = days.day(given.get("out"), "the day out")
        return {
            "group_uid": group.uid,
            "paddock_uid": paddock.uid,
            "ground": _ground(there, said) or paddock.outline,
            "state": _state(words(given.get("state")), into, out, today),
            "in_on": into,
            "out_on": out,
            "why_planned": words(given.get("why_planned")),
        }

    return _rows(placed, columns, farm, Stay, stay_of, lambda row: known.get(_fact(row)))


def _fact(stay: Stay) -> tuple[str, str, date, date | None]:
    return stay.group_uid, stay.paddock_uid, stay.in_on, stay.out_on


def _state(said: str, into: date, out: date | None, today: date) -> StayState:
    """Return the state that a row tells where it can be, else the one that follows from its days."""
    if said in set(StayState) and not (said == StayState.PAST and out is None):
        return StayState(said)
    if into > today:
        return StayState.PLANNED
    return StayState.RUNNING if out is None or out > today else StayState.PAST


def _ground(there: There, said: list[Text]) -> shapely.Polygon | None:
    """Return the ground that a row draws; None where it draws none that can be."""
    if isinstance(there, BaseGeometry):
        there = rings_closed(there)
    if not isinstance(there, BaseGeometry) or there.is_empty or shapely.get_dimensions(there) != 2:
        return None
    parts = [part for part in shapely.get_parts(there) if isinstance(part, shapely.Polygon)]
    if len(parts) == 1 and shapely.is_valid(parts[0]) and parts[0].area > 0.0:
        return parts[0]
    said.append(Text("Its shape is no single area; the ground of the paddock stands for it."))
    return None


def checks_out_of(placed: Placed, columns: Columns, file: str, farm: Farm) -> list[TakenRow]:
    """Return what becomes of each row as a daily check; a reading that does not read is left out, and told."""
    days = _days(placed, columns, file, ("day",))
    known = {_seen(check): check for check in farm.checks.values()}

    def check_of(
        row: Incoming, there: There, given: Mapping[str, Any], named: Named, said: list[Text]
    ) -> dict[str, Any]:
        paddock = named.paddock(given.get("paddock"), given.get("field"))
        on = days.day(given.get("day"), "the day")
        if on is None:
            raise RecordError("no day is given.", remedy="Write the day of the check.")
        found: dict[str, Any] = {
            "paddock_uid": paddock.uid,
            "group_uid": None if nothing(given.get("group")) else named.group(given.get("group")).uid,
            "checked_on": on,
            "damage": words(given.get("damage")),
            "seen_by": words(given.get("seen_by")),
            "note": words(given.get("note")),
            "point": _point(row, there),
        }
        for what, (column, read, name) in _READINGS.items():
            found[column] = _reading(given.get(what), column, read, name, said)
        found["all_well"] = bool(found["all_well"])
        return found

    return _rows(placed, columns, farm, Check, check_of, lambda row: known.get(_seen(row)))


def _seen(check: Check) -> tuple[object, ...]:
    """Return what tells one check from another; who was there and where on the ground is no reading."""
    return (
        check.paddock_uid, check.checked_on, check.all_well, check.fence_kv, check.tester_lights, check.pigs_seen,
        check.water_ok, check.soil_on_net, check.rooting_score, check.damage, check.note,
    )  # fmt: skip


Read = Callable[[Any, str], Any]
_READINGS: Mapping[str, tuple[str, Read, str]] = {
    "kv": ("fence_kv", number, "the fence voltage in kV"),
    "lights": ("tester_lights", whole, "the number of lights"),
    "pigs": ("pigs_seen", whole, "the number of pigs"),
    "water_ok": ("water_ok", truth, "whether there is water"),
    "soil_on_net": ("soil_on_net", truth, "whether soil lies on the net"),
    "rooting": ("rooting_score", whole, "the rooting, 0 to 4"),
    "all_well": ("all_well", truth, "whether all was well"),
}
_ANY_DAY = date(2000, 1, 1)


def _reading(value: Any, column: str, read: Read, name: str, said: list[Text]) -> Any:
    """Return one reading; None, and words, where it cannot be."""
    try:
        found = read(value, name)
        if found is not None and column != "all_well":
            Check(paddock_uid="", checked_on=_ANY_DAY, **{column: found})  # whether there can be such a reading
    except PigmapError as why:
        said.append(Text("{why} The rest of the row is taken.", {"why": why.message}))
        return None
    return found


def _point(row: Incoming, there: There) -> shapely.Point | None:
    middle = any(words(value) == MIDDLE for value in row.columns.values())
    return None if middle or not isinstance(there, shapely.Point) or there.is_empty else there


def _days(placed: Placed, columns: Columns, file: str, which: Sequence[str]) -> Days:
    used = [columns[what] for what in which if what in columns]
    return Days(file, [row.columns.get(column) for row in placed.layer.rows for column in used])


def _rows(
    placed: Placed,
    columns: Columns,
    farm: Farm,
    kind: type[R],
    columns_of: Callable[[Incoming, There, Mapping[str, Any], Named, list[Text]], dict[str, Any]],
    known: Callable[[R], R | None],
) -> list[TakenRow]:
    named = Named(farm)
    taken: list[R] = []
    found = []
    for at, row in enumerate(placed.layer.rows, start=1):
        given = {what: row.columns.get(column) for what, column in columns.items()}
        called = " ".join(filter(None, (told(given.get(what)) for what in ("group", "paddock", "in", "day"))))
        said: list[Text] = []
        try:
            told_columns = columns_of(row, placed.there[at - 1], given, named, said)
            made = kind(**told_columns)
        except PigmapError as why:
            found.append(refused(at, called, (why.message, why.remedy)))
            continue
        found.append(_told(at, called, made, told_columns, given, farm, known(made), said))
        taken.append(made)
    return found


def _told(
    at: int,
    called: str,
    made: Record,
    columns: Mapping[str, Any],
    given: Mapping[str, Any],
    farm: Farm,
    same: Record | None,
    said: Sequence[Text],
) -> TakenRow:
    """Return a row as a new fact, as one that is there, or as what changes one that is known by its uid."""
    old = farm.rows(made.TABLE).get(words(given.get("uid")))
    if old is not None:
        changed = {name: value for name, value in columns.items() if not _alike(getattr(old, name), value)}
        changed = {name: value for name, value in changed.items() if name in _TOLD_BY_ROWS[made.TABLE]}
        if not changed:
            return TakenRow(at, called, "there already", tuple(said))
        replace(old, **changed)  # refuses what cannot be
        return TakenRow(at, called, "changed", tuple(said), amended=Amended(made.TABLE, old.uid, changed))
    if same is not None:
        return TakenRow(at, called, "there already", tuple(said))
    return TakenRow(at, called, "taken", tuple(said), added=made)


_TOLD_BY_ROWS = {
    "stays": ("group_uid", "paddock_uid", "in_on", "out_on", "state"),
    "checks": (
        "paddock_uid", "checked_on", "fence_kv", "tester_lights", "pigs_seen", "water_ok", "soil_on_net",
        "rooting_score", "damage", "seen_by", "note", "all_well",
    ),
}  # fmt: skip
"""What a row may change of one that is there: not its shape, which formats round."""


def _alike(one: Any, other: Any) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) < 1e-9
    if isinstance(one, str) and isinstance(other, str):
        return one.strip() == other.strip()  # spaces at the ends are lost in some formats
    return bool(one == other)
