"""Paddocks."""

from __future__ import annotations

from typing import ClassVar

import shapely

from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_at_least, need_name, need_shape
from pigmap.records.record import Record


@dataclass(frozen=True, slots=True, kw_only=True)
class Paddock(Record):
    """Ground closed by nets for one stay: a rectangle of whole nets, or corners as someone walked them."""

    TABLE: ClassVar[str] = "paddocks"

    name: str
    field_uid: str | None = None
    outline: shapely.Polygon
    net_kind_uid: str | None = None
    """Nets it was made from; None where corners were walked."""
    nets_long: int | None = None
    nets_wide: int | None = None
    note: str = ""
    energizer_uid: str | None = None
    """What feeds its fence; None where that follows from the group that stands on it."""
    own_switch: bool = False
    """Whether its fence can be switched off alone."""
    side_nets: tuple[str, ...] = ()
    """Nets of its sides where they are of more than one length, as `pigmap.records.side_nets` writes them."""

    def __post_init__(self) -> None:
        need_name("paddock", self.name)
        need_shape(f"Paddock {self.name}", self.outline)
        for nets in (self.nets_long, self.nets_wide):
            need_at_least(f"The number of nets on a side of paddock {self.name}", nets, 1)
