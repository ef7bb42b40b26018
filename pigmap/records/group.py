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
    ringed: bool = False
    """Whether the pigs wear rings in their snouts, so that they root less."""
    feed_share: float | None = None
    """What they are fed, as a share of a full ration; None where nobody has said."""
    feed_kg: float | None = None
    """Feed of one pig in a day [kg]; None for what such pigs usually eat."""
    feed_protein_g_kg: float | None = None
    """Crude protein of the feed [g/kg]."""
    tank_l: float | None = None
    """Water carried to them at a time [L]."""
    feeder_kg: float | None = None
    """Feed carried to them at a time [kg]."""
    drinkers: int | None = None
    """Nipples or bowls to drink from."""
    target_kg: float | None = None
    """Mean live weight at which they go [kg]."""
    tank_filled_on: date | None = None
    """Day on which the tank was last filled; None where nobody has told it."""
    feeder_filled_on: date | None = None
    """Day on which the feeder was last filled; None where nobody has told it."""

    def __post_init__(self) -> None:
        need_name("group", self.name)
        need_between(f"The colour of {self.name}", self.colour_index, 0, 7)
        need_day(f"The end of {self.name}", self.closed_on)
        need_between(f"The share of a full ration of {self.name}", self.feed_share, 0.0, 1.5)
        need_between(f"The feed of one pig of {self.name} in kg a day", self.feed_kg, 0.0, 20.0)
        need_between(f"The protein in the feed of {self.name} in g/kg", self.feed_protein_g_kg, 0.0, 600.0)
        need_at_least(f"The water carried to {self.name} in litres", self.tank_l, 0.0)
        need_at_least(f"The feed carried to {self.name} in kg", self.feeder_kg, 0.0)
        need_at_least(f"The number of drinkers of {self.name}", self.drinkers, 0)
        need_between(f"The weight at which {self.name} go", self.target_kg, 0.3, 600.0)
        need_day(f"The day the tank of {self.name} was filled", self.tank_filled_on)
        need_day(f"The day the feeder of {self.name} was filled", self.feeder_filled_on)


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


class WeighedBy(StrEnum):
    """How a weight was found."""

    SCALE = "scale"
    TAPE = "tape"
    EYE = "eye"


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
    weighed_by: WeighedBy = WeighedBy.SCALE

    def __post_init__(self) -> None:
        need_day("The day", self.happened_on)
        need_at_least("The number of pigs", self.pigs, 0)
        need_between("The mean weight", self.mean_kg, 0.3, 600.0)
        need_between("The withdrawal time in days", self.withdrawal_days, 0, 3650)
