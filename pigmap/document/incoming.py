"""The contract of a format: outlines and lines that come in from a file."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, Protocol

from shapely.geometry.base import BaseGeometry

from pigmap.records.frozen import dataclass


@dataclass(frozen=True, slots=True, eq=False)
class Incoming:
    """One shape as it stands in the file, nothing mended."""

    name: str
    shape: BaseGeometry | None
    """In the file's own coordinates; None where the row has no shape."""
    columns: Mapping[str, Any]


@dataclass(frozen=True, slots=True, eq=False)
class IncomingLayer:
    """One layer of a file, read."""

    name: str
    crs: str
    """Well-known text or ``EPSG:N``; empty where the file does not say."""
    rows: tuple[Incoming, ...]


class Format(Protocol):
    """Reads outlines from files of one or more kinds. ``api = 1``."""

    api: int
    name: str
    suffixes: tuple[str, ...]
    """Ends of the names of its files, in small letters with the dot."""

    def layers(self, path: Path) -> tuple[str, ...]:
        """Return the names of the layers that hold shapes, in the file's order."""
        ...

    def read(self, path: Path, layer: str = "") -> IncomingLayer:
        """Read one layer; the only one, or the first with areas in it, if none is named.

        Raises
        ------
        OutlineError
            If the file is missing, unreadable, or has no such layer.
        """
        ...
