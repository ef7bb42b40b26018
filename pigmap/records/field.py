"""Fields, and what each is for in each part of the year."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import ClassVar

import shapely

from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_at_least, need_between, need_day, need_month_day, need_name, need_shape
from pigmap.records.record import Record


class GroundCover(StrEnum):
    """What grows on a field."""

    PASTURE = "pasture"
    LEY = "ley"
    WOODLAND = "woodland"
    SCRUB = "scrub"
    ARABLE = "arable"
    OTHER = "other"


class Forage(StrEnum):
    """Which grass or mixture grows, where it is known; it decides how fast green goes under pigs."""

    FESCUE = "fescue"
    BERMUDA = "bermudagrass"
    CLOVER_LEY = "grass and clover ley"


@dataclass(frozen=True, slots=True, kw_only=True)
class Field(Record):
    """A piece of ground with an outline, a cover and a frame in which its cells are counted.

    The frame (origin, direction, size of a cell) is stored and never follows a reshaped outline: the cells keep
    their places, only which of them lie inside changes.
    """

    TABLE: ClassVar[str] = "fields"

    name: str
    ground_cover: GroundCover = GroundCover.PASTURE
    outline: shapely.MultiPolygon
    soil: str | None = None
    origin_x_m: float
    """East of a corner of cell (0, 0), in the farm's projection [m]."""
    origin_y_m: float
    turned_deg: float
    """Direction of the rows of cells, anticlockwise from east [degrees], 0 up to 90."""
    cell_m: float = 2.0
    """Side of a cell, in metres of the farm's projection."""
    note: str = ""
    retired_on: date | None = None
    forage: Forage | None = None

    def __post_init__(self) -> None:
        need_name("field", self.name)
        need_shape(f"Field {self.name}", self.outline)
        need_between(f"The side of the smallest square of {self.name} in metres", self.cell_m, 0.25, 50.0)
        need_between(f"Direction of {self.name}", self.turned_deg, 0.0, 90.0)
        need_day(f"End of use of {self.name}", self.retired_on)


class Use(StrEnum):
    """What a field is for in a part of the year."""

    GRAZE_LIGHTLY = "graze lightly"
    TURN_OVER = "turn over"
    CLEAR_SCRUB = "clear scrub"
    WINTER_GROUND = "winter ground"
    CLOSED = "closed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Purpose(Record):
    """The use of one field from one day of the year to another, both included; it may pass over New Year."""

    TABLE: ClassVar[str] = "purposes"

    field_uid: str
    from_month_day: str
    to_month_day: str
    purpose: Use
    rest_days_wanted: int | None = None
    rooting_wanted: float | None = None
    """Share of the ground that may be rooted before it counts as too much, 0 to 1."""

    def __post_init__(self) -> None:
        for day in (self.from_month_day, self.to_month_day):
            need_month_day("A purpose", day)
        need_at_least("The rest wanted", self.rest_days_wanted, 0)
        need_between("The rooting wanted", self.rooting_wanted, 0.0, 1.0)

    def covers(self, day: date) -> bool:
        """Whether a day lies in this part of the year."""
        on = f"{day:%m-%d}"
        if self.from_month_day <= self.to_month_day:
            return self.from_month_day <= on <= self.to_month_day
        return on >= self.from_month_day or on <= self.to_month_day
