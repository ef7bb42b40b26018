"""Portable electric nets."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import ClassVar

import shapely

from pigmap.errors import RecordError
from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_at_least, need_day, need_name, need_shape
from pigmap.records.record import Record
from pigmap.text import Text

USUAL_HEIGHT_MM = 900
"""Height of a net of which nobody told it [mm]; common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NetKind(Record):
    """Nets of one length: the bays between their posts, height and conductor."""

    TABLE: ClassVar[str] = "net_kinds"

    name: str
    tape: str = ""
    """Colour of the tape that marks nets of this kind."""
    bays_mm: tuple[int, ...]
    """Length of each bay from the first post to the last [mm]."""
    height_mm: int = USUAL_HEIGHT_MM
    ohm_per_km: float | None = None
    """Resistance from end to end, all live strands side by side [Ω/km]; None where it is not told."""
    leak: float | None = None
    """Resistance of one net to the ground with a usual growth of grass [kΩ]; None or 0 where it is not told."""
    price: float | None = None
    """What one costs, in the keeper's own money."""

    def __post_init__(self) -> None:
        need_name("net kind", self.name)
        if not self.bays_mm or any(bay <= 0 for bay in self.bays_mm):
            raise RecordError(
                "Net kind {name} has no bays, or one of no length.",
                remedy="Give the length of each bay between two posts.",
                name=self.name,
            )
        need_at_least(f"The height of {self.name}", self.height_mm, 1)
        need_at_least(f"The resistance of {self.name}", self.ohm_per_km, 0.0)
        need_at_least(f"The leak of {self.name}", self.leak, 0.0)
        need_at_least(f"The price of {self.name}", self.price, 0.0)

    @property
    def length_mm(self) -> int:
        """Length from the first post to the last [mm]."""
        return sum(self.bays_mm)

    @property
    def length_m(self) -> float:
        """Length from the first post to the last [m]."""
        return self.length_mm / 1000

    @property
    def posts(self) -> int:
        """Posts of one net."""
        return len(self.bays_mm) + 1


class NetCondition(StrEnum):
    """Whether a net can stand."""

    SOUND = "sound"
    DAMAGED = "damaged"


@dataclass(frozen=True, slots=True, kw_only=True)
class Net(Record):
    """One net that the farm owns; its number may be empty."""

    TABLE: ClassVar[str] = "nets"

    net_kind_uid: str
    number: str = ""
    condition: NetCondition = NetCondition.SOUND
    first_used_on: date | None = None
    retired_on: date | None = None
    note: str = ""
    damaged_on: date | None = None
    """First day on which it is known to be damaged; None where it is not, or where nobody has told the day."""

    def __post_init__(self) -> None:
        need_day("The first day of a net", self.first_used_on)
        need_day("The last day of a net", self.retired_on)
        need_day("The day a net was damaged", self.damaged_on)
        if self.first_used_on is not None and self.retired_on is not None and self.retired_on < self.first_used_on:
            raise RecordError(
                "{net} goes out of use on {last}, before it is first used on {first}.",
                remedy="Give a last day that is not before the first.",
                net=Text("Net {number}", {"number": self.number}) if self.number else Text("A net"),
                last=self.retired_on,
                first=self.first_used_on,
            )

    def owned_on(self, day: date) -> bool:
        """Whether the farm has the net on a day: from its first use until it goes out of use."""
        begun = self.first_used_on is None or self.first_used_on <= day
        return begun and (self.retired_on is None or day < self.retired_on)


@dataclass(frozen=True, slots=True, kw_only=True)
class NetRepair(Record):
    """What was mended on a net, and when."""

    TABLE: ClassVar[str] = "net_repairs"

    net_uid: str
    mended_on: date
    what: str = ""
    damaged_on: date | None = None
    """Since when it was damaged; None where nobody told that."""

    def __post_init__(self) -> None:
        need_day("The day a net was mended", self.mended_on)
        need_day("The day a net was damaged", self.damaged_on)


@dataclass(frozen=True, slots=True, kw_only=True)
class NetUse(Record):
    """Where a net stood, from the day it was set to the day it was taken up; recorded once a move is done."""

    TABLE: ClassVar[str] = "net_uses"

    net_uid: str | None = None
    net_kind_uid: str
    paddock_uid: str
    run: shapely.LineString
    set_on: date
    taken_on: date | None = None

    def __post_init__(self) -> None:
        need_shape("The run of a net", self.run)
        need_day("The day a net was set", self.set_on)
        need_day("The day a net was taken up", self.taken_on)
        if self.taken_on is not None and self.taken_on < self.set_on:
            raise RecordError(
                "A net is taken up on {taken}, before it is set on {set}.",
                remedy="Give a day it was taken up that is not before the day it was set.",
                taken=self.taken_on,
                set=self.set_on,
            )

    def stands(self, day: date) -> bool:
        """Whether the net is recorded to stand on a day: on the one it is taken up it no longer does."""
        return self.set_on <= day and (self.taken_on is None or day < self.taken_on)
