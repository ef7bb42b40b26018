"""What a file that was handed out says when it is read back, held against the table that went into it."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.builtin.formats.table import format as table
from pigmap.builtin.formats.vector import format as vector
from pigmap.document.incoming import Incoming, IncomingLayer
from pigmap.geometry.projection import to_projection
from pigmap.records import Projection
from pigmap.session.handing_out.library import ten_letters
from pigmap.session.handing_out.table import Cell, Handed

MILLIMETRE = 0.001


def read_back(path: Path) -> list[IncomingLayer]:
    """Return every layer of a file that holds rows."""
    reader = table if path.suffix == ".csv" else vector
    return [layer for name in reader.layers(path) if (layer := reader.read(path, name)).rows]


def differences(handed: Handed, path: Path, projection: Projection) -> list[str]:
    """Return what a file says otherwise than the table; rows with no shape are not looked for in GPX."""
    layers = [layer for layer in read_back(path) if layer.name not in ("track_points", "route_points")]
    rows = [(layer.crs, row) for layer in layers for row in layer.rows]
    if path.suffix == ".zip" or path.suffix == ".gpx":
        key = "uid" if handed.column("uid") is not None else "name"
        column = handed.column(key)
        assert column is not None
        order = {str(value): at for at, value in enumerate(column.values)}
        rows.sort(key=lambda row: order[str(_value(row[1], key))])
    if len(rows) != len(handed):
        return [f"{len(rows)} rows, not {len(handed)}"]
    names = [each.name for each in handed.columns]
    shown = ten_letters(names) if path.suffix in (".shp", ".zip") else names
    found = []
    for at, (crs, row) in enumerate(rows):
        for column_told, name in zip(handed.columns, shown, strict=True):
            wanted, got = column_told.values[at], _value(row, name)
            if not same(wanted, got, path.suffix):
                found.append(f"row {at}, {name}: {wanted!r} became {got!r}")
        off = metres_off(handed.shapes[at], row.shape, crs, projection, path.suffix)
        if off > MILLIMETRE:
            found.append(f"row {at} lies {off} m off")
    return found


def _value(row: Incoming, name: str) -> Any:
    return {key.casefold(): value for key, value in row.columns.items()}.get(name.casefold())


def same(wanted: Cell, got: Any, suffix: str) -> bool:
    """Whether a value came back; readers of KML and Shapefiles strip spaces at the ends."""
    if wanted is None:
        return got in (None, "")
    if isinstance(wanted, bool):
        return str(got).casefold() in (str(wanted).casefold(), str(int(wanted)), str(float(wanted)))
    if isinstance(wanted, int | float):
        return got not in (None, "") and abs(float(got) - wanted) <= 1e-9 * max(1.0, abs(wanted))
    if isinstance(wanted, date):
        return str(got).replace("/", "-").startswith(wanted.isoformat())
    words = str(wanted)
    if suffix == ".kml":
        return words.strip() == str(got or "").strip()
    if suffix in (".shp", ".zip"):
        return words.encode()[:254].decode(errors="ignore").strip(" ") == str(got or "").strip(" ")
    return words == str(got)


def metres_off(
    wanted: BaseGeometry | None, got: BaseGeometry | None, crs: str, projection: Projection, suffix: str
) -> float:
    """Return how far the farthest corner lies from where it was [grid m]; nothing where neither has a shape."""
    if wanted is None or got is None:
        return 0.0 if (wanted is None) == (got is None) else np.inf
    (back,) = to_projection([got], crs, projection)
    if suffix == ".gpx" and shapely.get_dimensions(wanted) == 2:
        wanted = shapely.boundary(wanted)
    if shapely.get_dimensions(wanted) != shapely.get_dimensions(back):
        return np.inf
    if abs(wanted.area - back.area) > MILLIMETRE * max(wanted.length, 1.0):
        return np.inf
    one, other = (
        shapely.multipoints(shapely.get_coordinates(wanted)),
        shapely.multipoints(shapely.get_coordinates(back)),
    )
    return float(shapely.hausdorff_distance(one, other))
