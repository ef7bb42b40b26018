"""A small farm into which files are taken, and a way to do so."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import shapely

from pigmap.geometry.projection import from_projection
from pigmap.plugins import Registry
from pigmap.records import Farm, Group, Record
from pigmap.session.taking_in import TakeIn, TakenIn, take_in
from tests.ground.invented import farm, field, herd, paddock, square, stay

TODAY = date(2026, 6, 1)
REGISTRY = Registry()


def here(*more: Record) -> Farm:
    """Return a farm in UTM zone 32 with a field, two paddocks and a group with a stay."""
    rows = (*herd(), Group(uid="w", name="Weaners"), field(), paddock(), paddock("q", square(50, 0)), stay("s", 0, 5))
    return farm(*rows, *more)


def taken(path: Path, kind: str = "", at: Farm | None = None, **more: Any) -> TakenIn:
    """Return what becomes of a file."""
    return take_in(TakeIn(file=path, today=TODAY, kind=kind, **more), at if at is not None else here(), REGISTRY)


def after(told: TakenIn, at: Farm | None = None) -> Farm:
    """Return the farm once it is taken in."""
    farm = at if at is not None else here()
    return farm.after(told.edit(farm))


def said(told: TakenIn) -> list[str]:
    """Return what is said of the whole file and of each row."""
    rows = [f"{row.row}: {words}" for row in told.rows for words in row.words if words]
    return [*map(str, told.notes), *rows]


def file(folder: Path, words: str, name: str = "rows.csv", encoding: str = "utf-8") -> Path:
    """Write a table."""
    path = folder / name
    path.write_bytes(words.encode(encoding))
    return path


def degrees(shape: shapely.geometry.base.BaseGeometry) -> shapely.geometry.base.BaseGeometry:
    """Return a shape of the farm in longitude and latitude."""
    return from_projection([shape], here().projection)[0]
