"""What lies in and around the fields: keep-outs, ways and places."""

from __future__ import annotations

from enum import StrEnum
from typing import ClassVar

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_at_least, need_between, need_month_day, need_name, need_shape
from pigmap.records.record import Record


class Reason(StrEnum):
    """Why ground is kept out of paddocks."""

    POND = "pond"
    WATERCOURSE = "watercourse"
    WELL = "well"
    WET = "wet corner"
    STEEP = "steep"
    ROOTS = "tree roots"
    PATH = "path"
    OVERHEAD_LINE = "overhead line"
    FLOOD = "flood months"
    WILDLIFE = "wildlife"
    OTHER = "other"

    @property
    def is_water(self) -> bool:
        """Whether the ground is wet: drawn in the colour of water."""
        return self in (Reason.POND, Reason.WATERCOURSE, Reason.WELL, Reason.WET, Reason.FLOOD)


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepOut(Record):
    """Ground with a reason to stay off it, and its own distances for nets, for gear and for vehicles."""

    TABLE: ClassVar[str] = "keep_outs"

    name: str = ""
    reason: Reason
    shape: BaseGeometry
    """An area, or a line or point that `radius_m` makes an area of."""
    radius_m: float = 0.0
    net_m: float = 0.0
    gear_m: float = 0.0
    vehicle_m: float = 0.0
    field_uid: str | None = None
    from_month_day: str | None = None
    to_month_day: str | None = None
    note: str = ""

    def __post_init__(self) -> None:
        need_shape(f"Keep-out {self.name or self.reason}", self.shape)
        for what, value in (
            ("radius", self.radius_m),
            ("net distance", self.net_m),
            ("gear distance", self.gear_m),
            ("vehicle distance", self.vehicle_m),
        ):
            need_at_least(f"The {what} of {self.name or self.reason}", value, 0.0)
        for day in (self.from_month_day, self.to_month_day):
            need_month_day(f"Keep-out {self.name or self.reason}", day)


class WayKind(StrEnum):
    """What a line on the ground is."""

    PATH = "path"
    ROAD = "road"
    TRACK = "track"
    RIDE = "ride"
    HEDGE = "hedge"
    WATERCOURSE = "watercourse"
    OVERHEAD_LINE = "overhead line"
    PERMANENT_FENCE = "permanent fence"
    DITCH = "ditch"


@dataclass(frozen=True, slots=True, kw_only=True)
class Way(Record):
    """A line on the ground that people, water, current or a standing fence follow."""

    TABLE: ClassVar[str] = "ways"

    kind: WayKind
    name: str = ""
    line: shapely.LineString
    voltage_kv: float | None = None
    clearance_m: float | None = None
    electric: bool = False
    energizer_uid: str | None = None
    minutes_to_clear: float | None = None
    note: str = ""
    height_m: float | None = None
    """How high the lowest wire of an overhead line hangs over the ground [m]; None where nobody has told."""
    communication: bool = False
    """Whether an overhead line carries telephone or data and no power."""

    def __post_init__(self) -> None:
        need_shape(f"The {self.kind} {self.name}".rstrip(), self.line)
        need_at_least("The voltage", self.voltage_kv, 0.0)
        need_at_least("The clearance", self.clearance_m, 0.0)
        need_at_least("The time to clear in minutes", self.minutes_to_clear, 0.0)
        need_between("The height of the lowest wire in m", self.height_m, 0.0, 200.0)


class PlaceKind(StrEnum):
    """What stands at a point and stays there."""

    GATE = "gate"
    WATER_POINT = "water point"
    SHED = "shed"
    LOADING_PLACE = "loading place"
    ENERGIZER = "energizer"
    EARTH_ROD = "earth rod"
    TREE = "tree"


@dataclass(frozen=True, slots=True, kw_only=True)
class Place(Record):
    """A thing that stays where it is."""

    TABLE: ClassVar[str] = "places"

    kind: PlaceKind
    name: str = ""
    point: shapely.Point
    radius_m: float = 0.0
    note: str = ""

    def __post_init__(self) -> None:
        need_shape(f"The {self.kind} {self.name}".rstrip(), self.point)
        need_at_least("The radius", self.radius_m, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Image(Record):
    """A link to an aerial image; the file stays where it is."""

    TABLE: ClassVar[str] = "images"

    name: str
    link: str
    """Path from the folder of the farm file, with forward slashes, or an absolute path."""
    opacity: float = 1.0
    """From 0, not to be seen, to 1, nothing seen through it."""
    position: int = 0
    """Order from below."""
    pins: str = ""
    """Points of the picture whose place on the ground is known, as JSON; empty where the file tells its own place."""
    note: str = ""
    bands: tuple[int, ...] = ()
    """Bands of the file shown as red, green and blue, or one as grey, from 1; empty shows what the file says."""
    darkest: float | None = None
    """Value that is shown black; None where it is found from the image."""
    brightest: float | None = None
    """Value that is shown white."""

    def __post_init__(self) -> None:
        need_name("image", self.name)
        need_name("link of the image", self.link)
        need_between(f"The opacity of image {self.name}", self.opacity, 0.0, 1.0)
