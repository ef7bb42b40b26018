"""A daily check as it is typed: its readings, what cannot be, and what wants a hand."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

import shapely

from pigmap.animals.weight import live_weight
from pigmap.builtin.panels.group_typed import MistypedError
from pigmap.builtin.panels.typed_numbers import number, whole_number
from pigmap.document.edits import record_check
from pigmap.drawing.tokens import ROOTING_WORDS
from pigmap.errors import EditError
from pigmap.fence.electric.cause import too_little
from pigmap.fence.electric.of_check import cause_of
from pigmap.fence.electric.of_paddock import fence_of
from pigmap.ground.purposes import wanted_on
from pigmap.records import Edit, Farm, Paddock
from pigmap.text import Quantity, Text

MOST_KV = 20.0
MOST_PIGS = 99_999
MOST_LIGHTS = 20
_TO_CORNER = 0.6
"""Where the sign of a check stands on the way from the middle of a paddock to a corner. Own choice."""
PARTS = 4
"""Score of ground that is rooted all over."""


class CheckTyped(NamedTuple):
    """What is in the fields; what was not looked at is empty or None."""

    kv: str = ""
    pigs: str = ""
    water_ok: bool | None = None
    soil_on_net: bool | None = None
    rooting: int | None = None
    damage: str = ""
    note: str = ""
    lights: str = ""


class CheckGiven(NamedTuple):
    """What was meant."""

    kv: float | None
    pigs: int | None
    lights: int | None
    typed: CheckTyped

    @property
    def is_empty(self) -> bool:
        """Whether nothing was looked at."""
        return (self.kv, self.pigs, self.lights, *self.typed[2:7]) == (*(None,) * 6, "", "")

    def edit(self, paddock: Paddock, group_uid: str, on: date, uid: str) -> Edit:
        """Return the edit that records it, at a spot in the paddock that its name leaves free."""
        typed = self.typed
        return record_check(
            paddock.uid,
            on,
            group_uid=group_uid,
            uid=uid,
            point=_spot(paddock),
            fence_kv=self.kv,
            tester_lights=self.lights,
            pigs_seen=self.pigs,
            water_ok=typed.water_ok,
            soil_on_net=typed.soil_on_net,
            rooting_score=typed.rooting,
            damage=typed.damage.strip(),
            note=typed.note.strip(),
        )


def _spot(paddock: Paddock) -> shapely.Point:
    """Return a spot between the middle, where the paddock's name stands, and a corner."""
    middle = paddock.outline.representative_point()
    to_corner = shapely.LineString([middle, shapely.Point(paddock.outline.exterior.coords[0])])
    spot = to_corner.interpolate(_TO_CORNER, normalized=True)
    return spot if spot.within(paddock.outline) else middle


def given(typed: CheckTyped) -> CheckGiven:
    """Return what was meant.

    Raises
    ------
    MistypedError
        If a value cannot exist.
    """
    field = "kv"
    try:
        kv = number(Text("The voltage"), typed.kv, "5.5") if typed.kv.strip() else None
        if kv is not None and not 0.0 <= kv <= MOST_KV:
            raise EditError(
                "The voltage is {volts}.",
                remedy="Give what the tester says, from {least} to {most}.",
                volts=Quantity(kv, "kV"),
                least=Quantity(0.0, "kV", 0),
                most=Quantity(MOST_KV, "kV", 0),
            )
        field = "pigs"
        counted = Text("The number of pigs counted")
        pigs = whole_number(counted, typed.pigs, 0, MOST_PIGS, 12) if typed.pigs.strip() else None
        field = "lights"
        shining = Text("The number of lights on the tester")
        lights = whole_number(shining, typed.lights, 0, MOST_LIGHTS, 4) if typed.lights.strip() else None
    except EditError as error:
        raise MistypedError(field, error) from error
    return CheckGiven(kv, pigs, lights, typed._replace(damage=typed.damage.strip(), note=typed.note.strip()))


def remarks(farm: Farm, seen: CheckGiven, group_uid: str, paddock: Paddock, on: date) -> tuple[Text, ...]:
    """Return what wants a hand after a check; nothing of it keeps the check from being recorded."""
    found = []
    known = live_weight(farm, group_uid, on).pigs
    if seen.pigs is not None and seen.pigs != known:
        words = "{seen} pigs counted, and the group has {known}. Count again, or put the group right."
        found.append(Text(words, {"seen": seen.pigs, "known": known}))
    if seen.typed.water_ok is False:
        found.append(Text("Water was not well: see to it first."))
    if seen.typed.soil_on_net:
        found.append(Text("Soil on the bottom strand: clear it, with the energizer off."))
    elif seen.kv is not None:  # soil that was seen is the cause already
        found += _volts(farm, seen.kv, group_uid, paddock, on)
    if too_rooted(farm, seen, paddock, on):
        share = ROOTING_WORDS[seen.typed.rooting or 0]
        found.append(Text("The pigs rooted {share} of the ground, more than is welcome here.", {"share": share}))
    return tuple(found)


def _volts(farm: Farm, kilovolts: float, group_uid: str, paddock: Paddock, on: date) -> list[Text]:
    """Return what to do about a reading of the fence that is too little, or not what it should be [kV]."""
    fence = fence_of(farm, paddock.uid, paddock.outline, group_uid, on, today=on)
    cause = cause_of(farm, fence, fence.expected, kilovolts, on) if fence is not None else None
    cause = cause or too_little(kilovolts)
    return [cause.both] if cause is not None else []


def too_rooted(farm: Farm, seen: CheckGiven, paddock: Paddock, on: date) -> bool:
    """Whether more of the ground was seen rooted than the field's purpose welcomes."""
    field = farm.fields.get(paddock.field_uid or "")
    if seen.typed.rooting is None or field is None:
        return False
    return seen.typed.rooting / PARTS > max(wanted_on(farm, field, on).rooting, 1 / PARTS)
