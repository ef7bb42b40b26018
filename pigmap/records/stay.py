"""Stays."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import ClassVar

import shapely

from pigmap.errors import RecordError
from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_day, need_shape
from pigmap.records.record import Record


class StayState(StrEnum):
    """Whether a stay is recorded and over, running, or intended."""

    PLANNED = "planned"
    RUNNING = "running"
    PAST = "past"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stay(Record):
    """One group on one paddock: in on the first day, out on the last, which belongs to the next paddock.

    The ground is copied from the paddock, so that redrawing a paddock does not change history.
    """

    TABLE: ClassVar[str] = "stays"

    group_uid: str
    paddock_uid: str
    ground: shapely.Polygon
    state: StayState
    in_on: date
    out_on: date | None = None
    """First day that is not part of the stay; None while the pigs are there with no day set."""
    why_planned: str = ""

    def __post_init__(self) -> None:
        need_shape("The ground of a stay", self.ground)
        need_day("The day in", self.in_on)
        need_day("The day out", self.out_on)
        if self.out_on is not None and self.out_on < self.in_on:
            raise RecordError(
                "A stay goes out on {out}, before it comes in on {into}.",
                remedy="Give a day out that is not before the day in.",
                out=self.out_on,
                into=self.in_on,
            )
        if self.out_on is None and self.state is StayState.PAST:
            raise RecordError(
                "A past stay that began on {into} has no day out.", remedy="Give the day it ended.", into=self.in_on
            )

    def covers(self, day: date) -> bool:
        """Whether the group is on this ground on that day."""
        return self.in_on <= day and (self.out_on is None or day < self.out_on)
