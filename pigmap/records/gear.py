"""Gear: what moves with a group, and where it stood."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import ClassVar

import shapely

from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_day, need_shape
from pigmap.records.record import Record


class GearKind(StrEnum):
    """What a piece of gear is."""

    HUT = "hut"
    FEEDER = "feeder"
    DRINKER = "drinker"
    SHADE = "shade"
    WALLOW = "wallow"


@dataclass(frozen=True, slots=True, kw_only=True)
class GearPlace(Record):
    """Where a piece of a group's gear stands from a day on, until the group leaves or it is set elsewhere."""

    TABLE: ClassVar[str] = "gear_places"

    kind: GearKind
    group_uid: str
    stay_uid: str | None = None
    """The stay it stands in; None where only the day says it."""
    set_on: date
    """First day on which it stands there."""
    point: shapely.Point
    note: str = ""

    def __post_init__(self) -> None:
        need_shape(f"The {self.kind}", self.point)
        need_day("The day gear was set down", self.set_on)
