"""GPX 1.1 for phones: points are waypoints, lines are tracks, areas tracks that come back to where they began."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.records import Projection
from pigmap.session.handing_out.lon_lat import in_degrees
from pigmap.session.handing_out.table import Cell, Handed, text_of
from pigmap.session.handing_out.xml_words import lost_letters, xml_words
from pigmap.text import Text

_HEAD = (
    '<?xml version="1.0" encoding="UTF-8"?>\n<gpx version="1.1" creator="pigmap" '
    'xmlns="http://www.topografix.com/GPX/1/1" xmlns:ogr="http://osgeo.org/gdal" '
    'xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="http://www.topografix.com/GPX/1/1 '
    'http://www.topografix.com/GPX/1/1/gpx.xsd">\n'
)
Row = tuple[str, BaseGeometry, list[tuple[str, Cell]]]


def write_gpx(path: Path, handed: Handed, projection: Projection) -> tuple[Text, ...]:
    """Write waypoints and tracks; what a phone shows is the name, and the columns as a description."""
    shapes = in_degrees(handed, projection, "GPX")
    names = [each.name for each in handed.columns]
    rows: list[Row] = []
    for (called, _, values), shape in zip(handed.rows(), shapes, strict=True):
        if shape is not None:
            told = [(name, value) for name, value in zip(names, values, strict=True) if name != "name"]
            rows.append((called, shape, told))
    with path.open("w", encoding="utf-8", newline="\n") as file:
        file.write(_HEAD)
        file.writelines(each for row in rows for each in _waypoints(row))
        file.writelines(each for row in rows for each in _track(row))
        file.write("</gpx>\n")
    return (*_said(handed, rows), *lost_letters(handed, "GPX"))


def _waypoints(row: Row) -> Iterator[str]:
    called, shape, told = row
    for part in _parts(shape, 0):
        lon, lat = shapely.get_coordinates(part)[0].tolist()
        yield f'<wpt lat="{lat:.9f}" lon="{lon:.9f}">{_what(called, told)}</wpt>\n'


def _track(row: Row) -> Iterator[str]:
    called, shape, told = row
    areas = [each for each in _parts(shape, 2) if isinstance(each, shapely.Polygon)]
    lines = [*_parts(shape, 1), *(ring for area in areas for ring in (area.exterior, *area.interiors))]
    if lines:
        segments = "".join(f"<trkseg>{''.join(_points(line))}</trkseg>" for line in lines)
        yield f"<trk>{_what(called, told)}{segments}</trk>\n"


def _points(line: BaseGeometry) -> Iterator[str]:
    for lon, lat in shapely.get_coordinates(line).tolist():
        yield f'<trkpt lat="{lat:.9f}" lon="{lon:.9f}"/>'


def _parts(shape: BaseGeometry, dimension: int) -> list[BaseGeometry]:
    """Return the single shapes of one kind: points 0, lines 1, areas 2."""
    singles = shapely.get_parts(shape).tolist()
    if any(isinstance(each, shapely.GeometryCollection) for each in singles):
        return [each for single in singles for each in _parts(single, dimension)]
    return [each for each in singles if shapely.get_dimensions(each) == dimension]


def _what(called: str, told: list[tuple[str, Cell]]) -> str:
    """Return the name, a description to read, and the columns for programs."""
    there = [(name, value) for name, value in told if value is not None]
    read = "\n".join(f"{name}: {text_of(value)}" for name, value in there if name != "uid")
    words = f"<name>{xml_words(called)}</name>"
    if read:
        words += f"<desc>{xml_words(read)}</desc>"
    if there:
        columns = "".join(f"<ogr:{name}>{xml_words(text_of(value))}</ogr:{name}>" for name, value in there)
        words += f"<extensions>{columns}</extensions>"
    return words


def _said(handed: Handed, rows: list[Row]) -> Iterator[Text]:
    left_out = len(handed) - len(rows)
    if left_out:
        words = "{count} row has no place on the map, so GPX leaves it out."
        more = "{count} rows have no place on the map, so GPX leaves them out."
        yield Text(words, plural=more, count=left_out)
    if any(_parts(shape, 2) for _, shape, _ in rows):
        yield Text("GPX knows no areas: each outline is a track that comes back to where it began.")
