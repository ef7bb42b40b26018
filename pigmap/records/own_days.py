"""How many days a paddock lasts a group, as the keeper says it."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from pigmap.records.field import Use
from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_between, need_month_day
from pigmap.records.record import Record


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnDays(Record):
    """Days from move to move, for a group, for what the ground is for, and for a part of the year.

    What is left out counts for all; where several fit, the one that says most does.
    """

    TABLE: ClassVar[str] = "own_days"

    group_uid: str | None = None
    purpose: Use | None = None
    from_month_day: str | None = None
    to_month_day: str | None = None
    days: float

    def __post_init__(self) -> None:
        need_between("The days a paddock lasts", self.days, 0.25, 366.0)
        for day in (self.from_month_day, self.to_month_day):
            need_month_day("A part of the year", day)

    def covers(self, day: date) -> bool:
        """Whether a day lies in its part of the year, which may pass over New Year; open ends hold for all of it."""
        on = f"{day:%m-%d}"
        first, last = self.from_month_day or "01-01", self.to_month_day or "12-31"
        return first <= on <= last if first <= last else on >= first or on <= last
