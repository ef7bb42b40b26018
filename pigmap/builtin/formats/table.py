"""The format ``table``: CSV and sheets with outlines as well-known text, latitude and longitude, or no place at all."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.builtin.formats.sheets import SUFFIXES, sheet, sheet_names
from pigmap.builtin.formats.table_words import rows_of
from pigmap.builtin.formats.vector_names import names_of
from pigmap.document.incoming import Incoming, IncomingLayer
from pigmap.errors import OutlineError

SHAPES = ("wkt", "geometry", "geom", "the_geom", "wkt_geom", "geometry_wkt", "geom_wkt", "outline", "shape", "wkb")
"""Usual names of a column with shapes, in small letters. Own choice."""
PLACES = (
    (("lon_deg", "lon", "lng", "long", "longitude", "länge"), ("lat_deg", "lat", "latitude", "breite")),
    (("easting", "east", "x", "x_m", "rechtswert", "e"), ("northing", "north", "y", "y_m", "hochwert", "n")),
)
"""Usual names of the two columns of a place: degrees first, then metres east and north. Own choice."""
LON_LAT = "EPSG:4326"

_SRID = re.compile(r"\s*SRID=(\d+);", re.IGNORECASE)
_HEX = re.compile(r"(?:[0-9A-Fa-f]{2}){5,}")


class TableFormat:
    """Reads tables; rows need no shape."""

    api = 1
    name = "table"
    suffixes = (".csv", ".tsv", *SUFFIXES)

    def layers(self, path: Path) -> tuple[str, ...]:
        """Return the sheets of a spreadsheet; of a text file one layer, called as the file."""
        if path.suffix.lower() in SUFFIXES:
            return sheet_names(path)
        rows_of(path)
        return (path.stem,)

    def read(self, path: Path, layer: str = "") -> IncomingLayer:
        """Read the table.

        Raises
        ------
        OutlineError
            If it is no table, or another layer is asked for.
        """
        if path.suffix.lower() in SUFFIXES:
            return _of_sheet(path, layer)
        if layer and layer.casefold() != path.stem.casefold():
            raise OutlineError(
                "{file} has no layer {layer}.", remedy="It is one table: leave the layer out.", file=path.name,
                layer=layer,
            )  # fmt: skip
        head, *body = rows_of(path)
        names = _distinct(head)
        columns = {name: [row[at] or None if at < len(row) else None for row in body] for at, name in enumerate(names)}
        return _layer(path.stem, columns, len(body))


def _of_sheet(path: Path, wanted: str) -> IncomingLayer:
    names = sheet_names(path)
    name = next((each for each in names if not wanted or each.casefold() == wanted.casefold()), "")
    if not name:
        raise OutlineError(
            "{file} has no sheet {layer}.",
            remedy="Its sheets are: {layers}.",
            file=path.name,
            layer=wanted,
            layers=", ".join(names),
        )
    columns = sheet(path, name)
    return _layer(name, columns, len(next(iter(columns.values()), [])))


def _layer(name: str, columns: dict[str, list[Any]], count: int) -> IncomingLayer:
    """Return columns as rows, with the shapes that some of them tell."""
    words = {each: ["" if value is None else str(value) for value in values] for each, values in columns.items()}
    shapes, crs, used = _shapes(words, count)
    kept = [each for each in columns if each not in used]
    called = names_of(kept, [columns[each] for each in kept], count)
    rows = tuple(Incoming(called[at], shapes[at], {each: columns[each][at] for each in kept}) for at in range(count))
    return IncomingLayer(name, crs, rows)


def _distinct(head: Sequence[str]) -> list[str]:
    """Return the names of the columns, empty ones and doubles with a number."""
    names: list[str] = []
    for at, name in enumerate(head, start=1):
        wanted = name.strip() or f"column {at}"
        names.append(wanted if wanted not in names else f"{wanted} {at}")
    return names


def _shapes(columns: dict[str, list[str]], rows: int) -> tuple[Sequence[BaseGeometry | None], str, tuple[str, ...]]:
    """Return the shapes, their coordinate system as far as it is told, and the columns that tell of them."""
    by_name = {name.casefold().replace(" ", "_"): name for name in columns}
    for wanted in SHAPES:
        if wanted in by_name and (found := _of_words(columns[by_name[wanted]])) is not None:
            return *found, (by_name[wanted],)
    for at, (easts, norths) in enumerate(PLACES):
        east = next((by_name[each] for each in easts if each in by_name), None)
        north = next((by_name[each] for each in norths if each in by_name), None)
        if east is not None and north is not None:
            points = _points(columns[east], columns[north])
            if any(point is not None for point in points):
                return points, LON_LAT if at == 0 else "", (east, north)
    return [None] * rows, "", ()


def _of_words(told: Sequence[str]) -> tuple[Sequence[BaseGeometry | None], str] | None:
    """Return shapes from well-known text or binary, and their coordinate system; None where there is none in it."""
    codes = {found[1] for words in told if (found := _SRID.match(words)) and found[1] != "0"}
    shapes = [_shape(_SRID.sub("", words.strip())) for words in told]
    if all(shape is None for shape in shapes):
        return None
    return shapes, f"EPSG:{next(iter(codes))}" if len(codes) == 1 else _degrees(shapes)


def _shape(words: str) -> BaseGeometry | None:
    packed: Any = bytes.fromhex(words) if _HEX.fullmatch(words) else None
    found: Any = shapely.from_wkt(words, on_invalid="ignore") if packed is None else None
    if packed is not None:
        found = shapely.from_wkb(packed, on_invalid="ignore")
    return found if isinstance(found, BaseGeometry) else None


def _degrees(shapes: Sequence[BaseGeometry | None]) -> str:
    """Return longitude and latitude where all numbers can be that, as most tables have it; else nothing."""
    points = shapely.get_coordinates([shape for shape in shapes if shape is not None])
    points = points[np.isfinite(points).all(axis=1)]
    fits = len(points) > 0 and bool((np.abs(points) <= (180.0, 180.0)).all())
    return LON_LAT if fits else ""


def _points(easts: Sequence[str], norths: Sequence[str]) -> list[BaseGeometry | None]:
    pairs: NDArray[np.float64] = np.array([[_number(x), _number(y)] for x, y in zip(easts, norths, strict=True)])
    return [shapely.Point(pair) if np.isfinite(pair).all() else None for pair in pairs]


def _number(words: str) -> float:
    try:
        return float(words.strip().replace(",", "."))
    except ValueError:
        return np.nan


format = TableFormat()  # the name that the entry point is declared with
