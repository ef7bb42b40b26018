"""Ground jobs: what people did to ground, or know of it from before the records begin."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import ClassVar

import shapely

from pigmap.errors import RecordError
from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_at_least, need_between, need_day, need_shape
from pigmap.records.record import Record


class GroundJobKind(StrEnum):
    """What was done to ground, or what someone says of it."""

    USED_BEFORE = "used before"
    NEVER_USED = "never used"
    UNKNOWN = "unknown"
    SEEDED = "seeded"
    HARROWED = "harrowed"
    HAY = "hay"
    OTHER_STOCK = "other stock"
    MANURE = "manure"

    @property
    def tells_what_was(self) -> bool:
        """Whether it says what was before the records begin, and is no work that was done."""
        return self in (GroundJobKind.USED_BEFORE, GroundJobKind.NEVER_USED, GroundJobKind.UNKNOWN)


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundJob(Record):
    """One thing that was done to a piece of ground, or that is known or not known of it."""

    TABLE: ClassVar[str] = "ground_jobs"

    kind: GroundJobKind
    shape: shapely.MultiPolygon
    position: int = 0
    """Order from below: what was told later lies over what was told earlier."""
    happened_on: date | None = None
    """The day, the first of several, or about which day; None where nobody can say."""
    within_days: int | None = None
    """How far off the day may be, to either side [days]; None where it is the day itself."""
    until_on: date | None = None
    """Last day of what takes several."""
    rooting_score: int | None = None
    """How the ground was left: 0 hardly, 1 a quarter, 2 half, 3 most, 4 all of it rooted."""
    n_kg_ha: float | None = None
    """Nitrogen that manure brought [kg/ha]."""
    note: str = ""

    def __post_init__(self) -> None:
        need_shape(f"The ground of what is told ({self.kind})", self.shape)
        need_day(f"The day of a ground job ({self.kind})", self.happened_on)
        need_day(f"The last day of a ground job ({self.kind})", self.until_on)
        need_at_least("The number of days that a day may be off", self.within_days, 0)
        need_between("The rooting score", self.rooting_score, 0, 4)
        need_at_least("The nitrogen in kg/ha", self.n_kg_ha, 0.0)
        if self.happened_on is not None and self.until_on is not None and self.until_on < self.happened_on:
            raise RecordError(
                "A ground job ({kind}) ends on {last}, before it begins on {first}.",
                remedy="Give a last day that is not before the first.",
                kind=self.kind.value,
                last=self.until_on,
                first=self.happened_on,
            )
