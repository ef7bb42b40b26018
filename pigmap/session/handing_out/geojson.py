"""GeoJSON as RFC 7946 has it: longitude and latitude of WGS 84, rings by the right hand, days as YYYY-MM-DD."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.records import Projection
from pigmap.session.handing_out.lon_lat import in_degrees
from pigmap.session.handing_out.table import Cell, Handed
from pigmap.text import Text


def write_geojson(path: Path, handed: Handed, projection: Projection) -> tuple[Text, ...]:
    """Write a collection of features, one on each line."""
    shapes = in_degrees(handed, projection, "GeoJSON")
    names = [each.name for each in handed.columns]
    with path.open("w", encoding="utf-8", newline="\n") as file:
        file.write(f'{{"type": "FeatureCollection", "name": {json.dumps(handed.name)}, "features": [\n')
        file.write(",\n".join(_features(handed, shapes, names)))
        file.write("\n]}\n")
    return ()


def _features(handed: Handed, shapes: list[BaseGeometry | None], names: list[str]) -> Iterator[str]:
    for (_, _, values), shape in zip(handed.rows(), shapes, strict=True):
        told = {name: _plain(value) for name, value in zip(names, values, strict=True)}
        feature = {"type": "Feature", "properties": told, "geometry": _geometry(shape)}
        yield json.dumps(feature, ensure_ascii=False, allow_nan=False)


def _geometry(shape: BaseGeometry | None) -> Any:
    return None if shape is None else shapely.geometry.mapping(shape)


def _plain(value: Cell) -> str | int | float | bool | None:
    return value.isoformat() if isinstance(value, date) else value
