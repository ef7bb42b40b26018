"""Rows of a file as stays and daily checks of the farm: facts, which are taken wherever a value is possible."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import Any

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.document.incoming import Incoming
from pigmap.errors import PigmapError, RecordError
from pigmap.records import Check, Record, Stay, StayState
from pigmap.session.handing_out.days import MIDDLE
from pigmap.session.intake import There
from pigmap.session.taking_in.result import TakenRow
from pigmap.session.taking_in.rows import Row, Rows, days_of
from pigmap.session.taking_in.shapes import rings_closed
from pigmap.session.taking_in.values import nothing, number, told, truth, whole, words
from pigmap.text import Text


class StayRows(Rows[Stay]):
    """Stays, known by group, paddock and days."""

    record = Stay
    keeps = frozenset(("ground",))  # formats round it, and what was is not redrawn

    def taken(self, kept: Sequence[int] | None = None) -> list[TakenRow]:
        """Return what becomes of each row."""
        self._days = days_of(self, ("in", "out"))
        self._facts = {_fact(stay): stay for stay in self.farm.stays.values()}
        return super().taken(kept)

    def called(self, row: Row) -> str:
        """Return the group, the paddock and the day in."""
        return _listed(row, ("group", "paddock", "in"))

    def read(self, row: Row) -> dict[str, Any]:
        """Return the ground and what the columns tell."""
        paddock = self.named.paddock(row.given.get("paddock"), row.given.get("field"))
        group = self.named.group(row.given.get("group"))
        into = self._days.day(row.given.get("in"), "the day in")
        if into is None:
            raise RecordError("no day in is given.", remedy="Write the day on which the group came.")
        out = self._days.day(row.given.get("out"), "the day out")
        found = {
            "group_uid": group.uid,
            "paddock_uid": paddock.uid,
            "ground": _ground(row.there, row.said) or paddock.outline,
            "state": _state(row.words("state"), into, out, self.today),
            "in_on": into,
        }
        if "out" in row.given:
            found["out_on"] = out
        if "why_planned" in row.given:
            found["why_planned"] = row.words("why_planned")
        return found

    def same(self, made: Stay) -> Record | None:
        """Return the stay of that group on that paddock on those days."""
        return self._facts.get(_fact(made))


def _listed(row: Row, which: Sequence[str]) -> str:
    return " ".join(filter(None, (told(row.given.get(what)) for what in which)))


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


class CheckRows(Rows[Check]):
    """Daily checks; a reading that does not read is left out, and told."""

    record = Check
    keeps = frozenset(("point", "group_uid"))  # formats round where it was; who was there is known otherwise

    def taken(self, kept: Sequence[int] | None = None) -> list[TakenRow]:
        """Return what becomes of each row."""
        self._days = days_of(self, ("day",))
        self._facts = {_seen(check): check for check in self.farm.checks.values()}
        return super().taken(kept)

    def called(self, row: Row) -> str:
        """Return the group, the paddock and the day."""
        return _listed(row, ("group", "paddock", "day"))

    def read(self, row: Row) -> dict[str, Any]:
        """Return the place and what the columns tell."""
        paddock = self.named.paddock(row.given.get("paddock"), row.given.get("field"))
        on = self._days.day(row.given.get("day"), "the day")
        if on is None:
            raise RecordError("no day is given.", remedy="Write the day of the check.")
        found: dict[str, Any] = {
            "paddock_uid": paddock.uid,
            "checked_on": on,
            "point": _point(row.incoming, row.there),
        }
        if not nothing(row.given.get("group")):
            found["group_uid"] = self.named.group(row.given["group"]).uid
        found |= {what: row.words(what) for what in ("damage", "seen_by", "note") if what in row.given}
        for what, (column, read, name) in _READINGS.items():
            if what in row.given:
                found[column] = _reading(row.given[what], column, read, name, row.said)
        if "all_well" in found:
            found["all_well"] = bool(found["all_well"])
        return found

    def same(self, made: Check) -> Record | None:
        """Return the check that saw the same."""
        return self._facts.get(_seen(made))


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
