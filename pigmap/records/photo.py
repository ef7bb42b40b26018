"""Photos of checks and of fields; the picture itself is kept apart from the rows that are read at the start."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

import shapely

from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_at_least, need_day, need_name
from pigmap.records.record import Record


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo(Record):
    """One photo, and what it shows."""

    TABLE: ClassVar[str] = "photos"

    sha256: str
    """Names the picture by what is in it, so that one that is added twice is kept once."""
    content_type: str = "image/jpeg"
    width_px: int
    height_px: int
    file_name: str = ""
    """Its file in the folder beside the farm file; empty where the picture is in the farm file itself."""
    check_uid: str | None = None
    paddock_uid: str | None = None
    field_uid: str | None = None
    point: shapely.Point | None = None
    """Where it was taken, if the camera knew [grid m]."""
    taken_on: date | None = None
    note: str = ""

    def __post_init__(self) -> None:
        need_name("photo's picture", self.sha256)
        need_at_least("The width of a photo in pixels", self.width_px, 1)
        need_at_least("The height of a photo in pixels", self.height_px, 1)
        need_day("The day of a photo", self.taken_on)
