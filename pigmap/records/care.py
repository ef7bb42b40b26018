"""What is done for the pigs of a group and what befalls them: treatments, escapes, litters, slaughter bookings."""

from __future__ import annotations

from datetime import date, timedelta
from typing import ClassVar

import shapely

from pigmap.errors import RecordError
from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_at_least, need_between, need_day, need_name
from pigmap.records.record import Record

DAYS_CARRIED = 114
"""Days from service to farrowing; the usual figure of the trade, common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Treatment(Record):
    """One line of the medicine book; the days of withdrawal are typed from the label, never built in."""

    TABLE: ClassVar[str] = "treatments"

    group_uid: str
    given_on: date
    last_on: date | None = None
    """Last day on which it was given; None where that is the first day."""
    pigs: int | None = None
    """How many pigs had it; None for all of the group."""
    which: str = ""
    """Ear tags or marks of the pigs, where not all had it."""
    product: str
    batch: str = ""
    dose: str = ""
    given_by: str = ""
    withdrawal_days: int | None = None
    """Days of withdrawal as the label says; None where nobody has typed them."""
    note: str = ""

    def __post_init__(self) -> None:
        need_name("medicine", self.product)
        need_day("The day of a treatment", self.given_on)
        need_day("The last day of a treatment", self.last_on)
        need_at_least("The number of pigs treated", self.pigs, 0)
        need_between("The withdrawal time in days", self.withdrawal_days, 0, 3650)
        _in_order(f"The treatment with {self.product}", self.given_on, self.last_on)

    @property
    def clear_on(self) -> date | None:
        """First day after the days of withdrawal; None where they are not known."""
        if self.withdrawal_days is None:
            return None
        return (self.last_on or self.given_on) + timedelta(days=self.withdrawal_days + 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Escape(Record):
    """Pigs that got out: when, where, why, and how many came back."""

    TABLE: ClassVar[str] = "escapes"

    group_uid: str
    paddock_uid: str | None = None
    happened_on: date
    point: shapely.Point | None = None
    why: str = ""
    fence_kv: float | None = None
    """Voltage of the fence, read after it was noticed [kV]."""
    pigs_out: int | None = None
    pigs_back: int | None = None
    note: str = ""

    def __post_init__(self) -> None:
        need_day("The day of an escape", self.happened_on)
        need_between("The fence voltage", self.fence_kv, 0.0, 20.0)
        need_at_least("The number of pigs out", self.pigs_out, 0)
        need_at_least("The number of pigs back", self.pigs_back, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Litter(Record):
    """One sow from service to weaning, where a farm follows its sows one by one."""

    TABLE: ClassVar[str] = "litters"

    group_uid: str
    sow: str
    """Her name, ear tag or mark."""
    served_on: date | None = None
    due_on: date | None = None
    """The day she is due where somebody typed it; None where it follows from the service."""
    farrowed_on: date | None = None
    born: int | None = None
    weaned_on: date | None = None
    weaned: int | None = None
    weaned_group_uid: str | None = None
    """The group that the weaned pigs went to."""
    note: str = ""

    def __post_init__(self) -> None:
        need_name("sow", self.sow)
        for what, day in (
            ("The day of service", self.served_on),
            ("The day she is due", self.due_on),
            ("The day of farrowing", self.farrowed_on),
            ("The day of weaning", self.weaned_on),
        ):
            need_day(what, day)
        need_at_least("The number of piglets born", self.born, 0)
        need_at_least("The number of piglets weaned", self.weaned, 0)
        _in_order(f"The litter of {self.sow}", self.served_on, self.farrowed_on)
        _in_order(f"The litter of {self.sow}", self.farrowed_on, self.weaned_on)

    @property
    def due(self) -> date | None:
        """The day she is due: as typed, else `DAYS_CARRIED` after service; None where neither is known."""
        if self.due_on is not None or self.served_on is None:
            return self.due_on
        return self.served_on + timedelta(days=DAYS_CARRIED)


@dataclass(frozen=True, slots=True, kw_only=True)
class SlaughterBooking(Record):
    """Pigs that a butcher or slaughterhouse expects on a day."""

    TABLE: ClassVar[str] = "slaughter_bookings"

    group_uid: str | None = None
    """The group they come from; None while it is not decided."""
    goes_on: date
    pigs: int | None = None
    least_kg: float | None = None
    """Live weight from which a pig is heavy enough [kg]."""
    place_uid: str | None = None
    """Where they are loaded."""
    gone: int | None = None
    """How many went; None while it is to come."""
    dead_kg: float | None = None
    """Mean dead weight, typed from the butcher's note [kg]."""
    note: str = ""

    def __post_init__(self) -> None:
        need_day("The day of a slaughter booking", self.goes_on)
        need_at_least("The number of pigs booked", self.pigs, 1)
        need_between("The weight from which a pig goes", self.least_kg, 0.3, 600.0)
        need_at_least("The number of pigs that went", self.gone, 0)
        need_between("The mean dead weight", self.dead_kg, 0.3, 600.0)


def _in_order(what: str, first: date | None, last: date | None) -> None:
    if first is not None and last is not None and last < first:
        raise RecordError(
            "{what} ends on {last}, before {first}.",
            remedy="Give days in the order in which they were.",
            what=what,
            last=last,
            first=first,
        )
