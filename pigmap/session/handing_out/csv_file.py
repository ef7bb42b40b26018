"""CSV for spreadsheets: longitude and latitude of points in columns of their own, other shapes as well-known text."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from pathlib import Path

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.records import Projection
from pigmap.session.handing_out.lists import SHAPELESS
from pigmap.session.handing_out.lon_lat import DIGITS, in_degrees
from pigmap.session.handing_out.table import Handed, text_of
from pigmap.text import Text

SHAPE = "WKT"
POINT = ("lon_deg", "lat_deg")


def write_csv(path: Path, handed: Handed, projection: Projection) -> tuple[Text, ...]:
    """Write a table in UTF-8 with its mark, by which spreadsheets know it."""
    shapeless = handed.name in SHAPELESS
    placed = projection.has_place and not shapeless
    shapes = in_degrees(handed, projection, "CSV") if placed else list(handed.shapes)
    points = placed and all(isinstance(shape, shapely.Point) for shape in shapes if shape is not None)
    with path.open("w", encoding="utf-8-sig", newline="") as file:
        writer = csv.writer(file, lineterminator="\r\n")
        writer.writerow(
            [*(each.name for each in handed.columns), *(() if shapeless else POINT if points else (SHAPE,))]
        )
        if shapeless:
            writer.writerows([*map(text_of, values)] for _, _, values in handed.rows())
        else:
            writer.writerows(_rows(handed, shapes, points=points))
    if placed or shapeless:
        return ()
    return (Text("The shapes are in metres of the farm's own grid: it has no place on the map of the world yet."),)


def _rows(handed: Handed, shapes: Sequence[BaseGeometry | None], *, points: bool) -> Iterator[list[str]]:
    for (_, _, values), shape in zip(handed.rows(), shapes, strict=True):
        yield [*map(text_of, values), *(_point(shape) if points else [_shape(shape)])]


def _point(shape: BaseGeometry | None) -> list[str]:
    if shape is None or shape.is_empty:
        return ["", ""]
    lon, lat = shapely.get_coordinates(shape)[0].tolist()
    return [f"{lon:.{DIGITS}f}", f"{lat:.{DIGITS}f}"]


def _shape(shape: BaseGeometry | None) -> str:
    return "" if shape is None else shapely.to_wkt(shape, rounding_precision=DIGITS, trim=True)
