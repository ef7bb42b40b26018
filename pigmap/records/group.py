"""Groups of pigs, and what happened to them."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import ClassVar

from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_at_least, need_between, need_day, need_name
from pigmap.records.record import Record


class PigClass(StrEnum):
    """What kind of pigs a group is."""

    WEANED = "weaned"
    GROWING = "growing"
    FINISHING = "finishing"
    GILT = "gilt"
    GESTATING = "gestating sow"
    LACTATING = "lactating sow"
    BOAR = "boar"


@dataclass(frozen=True, slots=True, kw_only=True)
class Group(Record):
    """Pigs that live together."""

    TABLE: ClassVar[str] = "groups"

    name: str
    pig_class: PigClass = PigClass.GROWING
    breed_type: str = ""
    colour_index: int = 0
    """Which of the signs and colours, counted from 0."""
    closed_on: date | None = None
    note: str = ""

    def __post_init__(self) -> None:
        need_name("group", self.name)
        need_between(f"The colour of {self.name}", self.colour_index, 0, 7)
        need_day(f"The end of {self.name}", self.closed_on)


class GroupEventKind(StrEnum):
    """What can happen to a group."""

    BOUGHT = "bought"
    BORN = "born"
    WEANED = "weaned"
    WEIGHED = "weighed"
    SOLD = "sold"
    DIED = "died"
    JOINED = "joined"
    SPLIT = "split"
    SERVED = "served"
    DUE = "due"
    TREATED = "treated"


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupEvent(Record):
    """One thing that happened to a group on one day.

    `pigs` counts those it happened to: bought, born and joined add them, sold, died and split take them away.
    A weighing counts the pigs that stood on the scale.
    """

    TABLE: ClassVar[str] = "group_events"

    group_uid: str
    happened_on: date
    kind: GroupEventKind
    pigs: int | None = None
    mean_kg: float | None = None
    other_group_uid: str | None = None
    withdrawal_days: int | None = None
    note: str = ""

    def __post_init__(self) -> None:
        need_day("The day", self.happened_on)
        need_at_least("The number of pigs", self.pigs, 0)
        need_between("The mean weight", self.mean_kg, 0.3, 600.0)
        need_between("The withdrawal time in days", self.withdrawal_days, 0, 3650)
