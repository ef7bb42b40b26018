"""Daily checks."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

import shapely

from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_at_least, need_between, need_day
from pigmap.records.record import Record


@dataclass(frozen=True, slots=True, kw_only=True)
class Check(Record):
    """What someone saw at one paddock on one day; what was not looked at is None."""

    TABLE: ClassVar[str] = "checks"

    checked_on: date
    group_uid: str | None = None
    paddock_uid: str
    point: shapely.Point | None = None
    all_well: bool = False
    fence_kv: float | None = None
    tester_lights: int | None = None
    pigs_seen: int | None = None
    water_ok: bool | None = None
    soil_on_net: bool | None = None
    rooting_score: int | None = None
    """0 hardly, 1 a quarter, 2 half, 3 most, 4 all of the ground."""
    damage: str = ""
    seen_by: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        need_day("The day of a check", self.checked_on)
        need_between("The fence voltage", self.fence_kv, 0.0, 20.0)
        need_between("The number of lights on the tester", self.tester_lights, 0, 20)
        need_at_least("The number of pigs seen", self.pigs_seen, 0)
        need_between("The rooting score", self.rooting_score, 0, 4)
