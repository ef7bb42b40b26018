"""The format ``parquet``: GeoParquet, where the library for it is installed."""

from __future__ import annotations

import json
from collections.abc import Mapping
from importlib import import_module
from pathlib import Path
from typing import Any

import shapely

from pigmap.builtin.formats.vector_files import need_outline_file
from pigmap.builtin.formats.vector_names import names_of
from pigmap.document.incoming import Incoming, IncomingLayer
from pigmap.errors import OutlineError
from pigmap.geometry.native import own_data

LON_LAT = "OGC:CRS84"
"""What a file without a coordinate system is in, says the standard."""


class ParquetFormat:
    """Reads GeoParquet with its shapes as well-known binary."""

    api = 1
    name = "parquet"
    suffixes = (".parquet", ".geoparquet")

    def layers(self, path: Path) -> tuple[str, ...]:
        """Return the one layer, called as the file."""
        need_outline_file(path)
        return (path.stem,)

    def read(self, path: Path, layer: str = "") -> IncomingLayer:
        """Read the file.

        Raises
        ------
        OutlineError
            If the library is missing, or it is no GeoParquet.
        """
        need_outline_file(path)
        table = _table(path)
        told = _told(path, table)
        name = str(told.get("primary_column", ""))
        shape: Any = told.get("columns", {}).get(name)
        if not isinstance(shape, Mapping) or name not in table.column_names:
            raise _none(path)
        if shape.get("encoding") != "WKB":
            raise OutlineError(
                "The shapes of {file} are kept in a way that is not read here ({encoding}).",
                remedy="Write it with shapes as WKB, or as a GeoPackage.",
                file=path.name,
                encoding=str(shape.get("encoding")),
            )
        shapes = list(shapely.from_wkb(table.column(name).to_pylist(), on_invalid="fix"))
        columns = {each: table.column(each).to_pylist() for each in table.column_names if each != name}
        called = names_of(list(columns), list(columns.values()), len(shapes))
        rows = tuple(
            Incoming(called[at], shapes[at], {each: values[at] for each, values in columns.items()})
            for at in range(len(shapes))
        )
        return IncomingLayer(path.stem, _crs(shape), rows)


def _table(path: Path) -> Any:
    try:
        parquet, pyarrow = import_module("pyarrow.parquet"), import_module("pyarrow")
    except ImportError as why:
        raise OutlineError(
            "{file} is read by the library pyarrow, which is not installed here.",
            remedy="Install it (python -m pip install pyarrow), or give a GeoPackage.",
            file=path.name,
        ) from why
    try:
        return parquet.read_table(path)
    except (pyarrow.ArrowException, OSError) as why:
        raise OutlineError(
            "{file} cannot be read as Parquet.", remedy="Fetch or export the file again.", file=path.name
        ) from why


def _told(path: Path, table: Any) -> Mapping[str, Any]:
    try:
        told = json.loads((table.schema.metadata or {}).get(b"geo", b"{}"))
    except ValueError as why:
        raise _none(path) from why
    if not isinstance(told, dict) or not isinstance(told.get("columns", {}), dict):
        raise _none(path)
    return told


def _none(path: Path) -> OutlineError:
    return OutlineError(
        "{file} is Parquet without shapes.", remedy="Give GeoParquet, or another file with outlines.", file=path.name
    )


def _crs(shape: Mapping[str, Any]) -> str:
    """Return the coordinate system as well-known text; nothing where the file says that it has none."""
    own_data()
    from pyproj import CRS
    from pyproj.exceptions import CRSError

    if "crs" in shape and shape["crs"] is None:
        return ""
    try:
        return str(CRS.from_user_input(shape.get("crs", LON_LAT)).to_wkt())
    except CRSError:
        return ""


format = ParquetFormat()  # the name that the entry point is declared with
