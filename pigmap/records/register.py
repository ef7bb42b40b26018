"""The register of pigs that came onto the farm and left it."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import ClassVar

from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_at_least, need_day
from pigmap.records.record import Record


class Direction(StrEnum):
    """Which way pigs went."""

    ON = "on"
    OFF = "off"


@dataclass(frozen=True, slots=True, kw_only=True)
class RegisterEntry(Record):
    """One line of the register: date, number, mark, from where, to where."""

    TABLE: ClassVar[str] = "register_entries"

    happened_on: date
    direction: Direction
    pigs: int
    mark: str = ""
    from_where: str = ""
    to_where: str = ""
    group_uid: str | None = None
    booking_uid: str | None = None
    """The slaughter booking they went with."""
    note: str = ""

    def __post_init__(self) -> None:
        need_day("The day of a register entry", self.happened_on)
        need_at_least("The number of pigs of a register entry", self.pigs, 1)
