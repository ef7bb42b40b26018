"""GeoPackage and Shapefile, written by the vector library in the farm's own coordinates."""

from __future__ import annotations

import warnings
import zipfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.errors import UsageError
from pigmap.geometry.native import own_data
from pigmap.records import Projection
from pigmap.session.handing_out.table import Cell, Column, Handed, Kind
from pigmap.text import Text

LONGEST_NAME = 10
"""Letters of a column's name in a Shapefile (dBASE III)."""
LONGEST_TEXT = 254
"""Bytes of a text in a Shapefile (dBASE III)."""

SHORT = {
    "ground_cover": "ground_cov",
    "group_on_day": "group_day",
    "minutes_to_clear": "min_clear",
    "from_month_day": "from_md",
    "to_month_day": "to_md",
    "tester_lights": "lights",
    "soil_on_net": "soil_net",
    "rooting_0_to_4": "root_0to4",
    "why_planned": "why_plan",
    "rooting_share": "root_share",
    "cover_share": "covr_share",
    "unknown_share": "unkn_share",
    "load_kg_d_m2": "load_kgdm2",
}
"""Names of our own that are too long for a Shapefile, shortened so that unit and sense stay."""

_ONE = {0: "Point", 1: "LineString", 2: "Polygon"}
_KINDS = {0: "points", 1: "lines", 2: "areas"}
_DTYPES: dict[Kind, tuple[str, Cell]] = {"whole": ("int64", 0), "number": ("float64", 0.0), "truth": ("bool", False)}


def write_gpkg(path: Path, handed: Handed, projection: Projection) -> tuple[Text, ...]:
    """Write a GeoPackage with one layer."""
    _write(path, handed, projection, "GPKG", handed.name)
    return ()


def write_shp(path: Path, handed: Handed, projection: Projection) -> tuple[Text, ...]:
    """Write one Shapefile, which holds one kind of shape.

    Raises
    ------
    UsageError
        If there are shapes of several kinds.
    """
    kinds = _dimensions(handed)
    if len(kinds) > 1:
        raise UsageError(
            "A Shapefile holds one kind of shape; there are {kinds}.",
            remedy="End the name in .zip: then it holds a Shapefile of each kind.",
            kinds=", ".join(_KINDS[each] for each in kinds),
        )
    fitted, said = for_shapefile(handed)
    _write(path, fitted, projection, "ESRI Shapefile", path.stem)
    return (*said, *_no_place(projection))


def write_zip(path: Path, handed: Handed, projection: Projection) -> tuple[Text, ...]:
    """Write a zip with a Shapefile for each kind of shape."""
    fitted, said = for_shapefile(handed)
    folder = path.with_suffix(".parts")
    folder.mkdir()
    kinds = _dimensions(fitted)
    for kind in kinds:
        name = handed.name if len(kinds) == 1 else f"{handed.name}_{_KINDS[kind]}"
        part = _only(fitted, kind) if len(kinds) > 1 else fitted
        _write(folder / f"{name}.shp", part, projection, "ESRI Shapefile", name)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        for file in sorted(folder.iterdir()):
            packed.write(file, file.name)
            file.unlink()
    folder.rmdir()
    lost = sum(shape is None or shape.is_empty for shape in handed.shapes) if len(kinds) > 1 else 0
    if lost:
        words = Text("{count} row has no shape and is left out.", plural="{count} rows have no shape and are left out.",
                     count=lost)  # fmt: skip
        said = (*said, words)
    return (*said, *_no_place(projection))


def for_shapefile(handed: Handed) -> tuple[Handed, tuple[Text, ...]]:
    """Return a table as a Shapefile can hold it, and what it cannot hold."""
    names = ten_letters([each.name for each in handed.columns])
    said = []
    cut = [f"{each.name}: {name}" for each, name in zip(handed.columns, names, strict=True) if each.name != name]
    if cut:
        words = "Names of columns have at most ten letters in a Shapefile, so they are cut: {names}."
        said.append(Text(words, {"names": ", ".join(cut)}))
    columns = tuple(
        Column(name, each.kind, tuple(_short(value) for value in each.values))
        for each, name in zip(handed.columns, names, strict=True)
    )
    pairs = zip(handed.columns, columns, strict=True)
    shortened = sum(a != b for old, new in pairs for a, b in zip(old.values, new.values, strict=True))
    if shortened:
        words = "{count} text is longer than a Shapefile holds (254 bytes), and is cut."
        more = "{count} texts are longer than a Shapefile holds (254 bytes), and are cut."
        said.append(Text(words, plural=more, count=shortened))
    return Handed(handed.name, columns, handed.shapes, handed.called), tuple(said)


def ten_letters(names: Sequence[str]) -> list[str]:
    """Return names that a Shapefile can hold, each like no other.

    Examples
    --------
    >>> ten_letters(["name", "clearance_m", "rooting_share", "roundabout_one", "roundabout_two"])
    ['name', 'clearanc_m', 'root_share', 'rounda_one', 'rounda_two']
    """
    found: list[str] = []
    for name in names:
        short = _cut(name)
        number = 2
        fits = short
        while fits.casefold() in {each.casefold() for each in found}:
            fits = f"{short[: LONGEST_NAME - len(str(number))]}{number}"
            number += 1
        found.append(fits)
    return found


def _cut(name: str) -> str:
    """Return the beginning of a long name, and its end where that is a unit or as short."""
    if name in SHORT:
        return SHORT[name]
    head, _, tail = name.rpartition("_")
    if len(name) <= LONGEST_NAME or not 0 < len(tail) <= 3:
        return name[:LONGEST_NAME].rstrip("_")
    return f"{head[: LONGEST_NAME - 1 - len(tail)].rstrip('_')}_{tail}"


def _short(value: Cell) -> Cell:
    if not isinstance(value, str):
        return value
    packed = value.encode()
    return value if len(packed) <= LONGEST_TEXT else packed[:LONGEST_TEXT].decode(errors="ignore")


def _no_place(projection: Projection) -> tuple[Text, ...]:
    if projection.has_place:
        return ()
    return (Text("The Shapefile does not say where on earth it lies: the farm has no place yet."),)


def _dimensions(handed: Handed) -> list[int]:
    """Return which kinds of shapes there are: points 0, lines 1, areas 2."""
    there = [shape for shape in handed.shapes if shape is not None and not shape.is_empty]
    return sorted({int(shapely.get_dimensions(shape)) for shape in there}) or [2]


def _only(handed: Handed, dimension: int) -> Handed:
    """Return the rows with one kind of shape."""
    kept = [
        at
        for at, shape in enumerate(handed.shapes)
        if shape is not None and not shape.is_empty and shapely.get_dimensions(shape) == dimension
    ]
    columns = tuple(Column(each.name, each.kind, tuple(each.values[at] for at in kept)) for each in handed.columns)
    return Handed(
        handed.name, columns, tuple(handed.shapes[at] for at in kept), tuple(handed.called[at] for at in kept)
    )


def _write(path: Path, handed: Handed, projection: Projection, driver: str, layer: str) -> None:
    own_data()
    from pyogrio.raw import write

    shapes, geometry_type = _of_one_type(handed)
    packed: NDArray[Any] = np.array([None if each is None else shapely.to_wkb(each) for each in shapes], dtype=object)
    told = [_as_array(each) for each in handed.columns]
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", "'crs' was not provided")
        write(
            path,
            packed,
            [values for values, _ in told],
            [each.name for each in handed.columns],
            field_mask=[mask for _, mask in told],
            layer=layer,
            driver=driver,
            geometry_type=geometry_type,
            crs=crs_of(projection, driver),
            encoding="UTF-8",
        )


def crs_of(projection: Projection, driver: str) -> str | None:
    """Return what the vector library takes for the farm's coordinates; None where a file cannot say it."""
    if projection.authority.upper() == "EPSG":
        return f"EPSG:{projection.code}"
    return projection.definition if projection.has_place or driver == "GPKG" else None


def _of_one_type(handed: Handed) -> tuple[list[Any], str]:
    """Return the shapes as one type, of many parts where one of them has many; where they differ they stay."""
    kinds = _dimensions(handed)
    shapes = list(handed.shapes)
    if len(kinds) > 1 or any(isinstance(shape, shapely.GeometryCollection) for shape in shapes):
        return shapes, "Unknown"
    one = _ONE[kinds[0]]
    if all(shape is None or shape.geom_type == one for shape in shapes):
        return shapes, one
    many: Any = {0: shapely.multipoints, 1: shapely.multilinestrings, 2: shapely.multipolygons}[kinds[0]]
    return [None if shape is None else many(list(shapely.get_parts(shape))) for shape in shapes], f"Multi{one}"


def _as_array(column: Column) -> tuple[NDArray[Any], NDArray[np.bool_] | None]:
    """Return the values, and which of them are not there where the values cannot say so."""
    if column.kind == "text":
        words: NDArray[Any] = np.empty(len(column.values), dtype=object)
        words[:] = column.values
        return words, None
    missing = np.array([value is None for value in column.values], dtype=bool)
    if column.kind == "day":
        return np.array(
            [np.datetime64("NaT", "D") if value is None else value for value in column.values], "M8[D]"
        ), None
    dtype, nothing = _DTYPES[column.kind]
    return np.array([nothing if value is None else value for value in column.values], dtype=dtype), missing
