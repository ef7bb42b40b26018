"""What the act of a move adds to its two stays: how long it took, and how many people."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_between, need_day
from pigmap.records.record import Record


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveDone(Record):
    """One move that was done, named by the stay it began."""

    TABLE: ClassVar[str] = "moves"

    to_stay_uid: str
    done_on: date
    minutes: float | None = None
    """From the first net to the last, feed and huts not counted [min]."""
    people: int | None = None
    note: str = ""

    def __post_init__(self) -> None:
        need_day("The day of a move", self.done_on)
        need_between("The time a move took in minutes", self.minutes, 1.0, 1440.0)
        need_between("The number of people at a move", self.people, 1, 50)
