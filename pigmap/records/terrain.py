"""Terrain images: heights of the ground, linked and left where they are."""

from __future__ import annotations

from typing import ClassVar

from pigmap.records.frozen import dataclass
from pigmap.records.limits import need_name
from pigmap.records.record import Record


@dataclass(frozen=True, slots=True, kw_only=True)
class Terrain(Record):
    """An image of heights [m]."""

    TABLE: ClassVar[str] = "terrains"

    name: str
    link: str
    """Its file, relative to the farm file where it lies beside or below it."""
    note: str = ""

    def __post_init__(self) -> None:
        need_name("terrain image", self.name)
        need_name("file of the terrain image", self.link)
