"""GeoParquet 1.1, where the library for it is installed."""

from __future__ import annotations

import json
from importlib import import_module
from pathlib import Path
from typing import Any

import shapely

from pigmap.errors import UsageError
from pigmap.geometry.native import own_data
from pigmap.records import Projection
from pigmap.session.handing_out.table import Column, Handed, Kind
from pigmap.text import Text

SHAPE = "geometry"
VERSION = "1.1.0"


def arrow(name: str) -> Any:
    """Return a module of the library that knows Parquet.

    Raises
    ------
    UsageError
        If it is not installed.
    """
    try:
        return import_module(name)
    except ImportError as why:
        raise UsageError(
            "GeoParquet needs the library pyarrow, which is not installed here.",
            remedy="Install it (python -m pip install pyarrow), or take a GeoPackage: it holds the same.",
        ) from why


def write_parquet(path: Path, handed: Handed, projection: Projection) -> tuple[Text, ...]:
    """Write a file in the farm's own coordinates, which it defines as PROJJSON."""
    pyarrow, parquet = arrow("pyarrow"), arrow("pyarrow.parquet")
    kinds: dict[Kind, Any] = {
        "text": pyarrow.string(),
        "whole": pyarrow.int64(),
        "number": pyarrow.float64(),
        "truth": pyarrow.bool_(),
        "day": pyarrow.date32(),
    }
    arrays = [_array(pyarrow, kinds, each) for each in handed.columns]
    shapes = [None if each is None else shapely.to_wkb(shapely.orient_polygons(each)) for each in handed.shapes]
    arrays.append(pyarrow.array(shapes, pyarrow.binary()))
    table = pyarrow.table(arrays, names=[*(each.name for each in handed.columns), SHAPE])
    told = json.dumps(_told(handed, projection)).encode()
    parquet.write_table(table.replace_schema_metadata({b"geo": told}), path)
    return ()


def _array(pyarrow: Any, kinds: dict[Kind, Any], column: Column) -> Any:
    return pyarrow.array(list(column.values), kinds[column.kind])


def _told(handed: Handed, projection: Projection) -> dict[str, Any]:
    """Return what the standard wants said of the shapes; nothing of where on earth for a farm without a place."""
    own_data()
    from pyproj import CRS

    there = [shape for shape in handed.shapes if shape is not None]
    crs = CRS.from_user_input(projection.definition).to_json_dict() if projection.has_place else None
    column = {
        "encoding": "WKB",
        "geometry_types": sorted({shape.geom_type for shape in there}),
        "crs": crs,
        "orientation": "counterclockwise",
        "edges": "planar",
    }
    if there:
        column["bbox"] = shapely.total_bounds(there).tolist()
    return {"version": VERSION, "primary_column": SHAPE, "columns": {SHAPE: column}}
