"""KML 2.2: placemarks with a schema of their columns; days are shown by programs that have a time line."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.records import Projection
from pigmap.session.handing_out.lon_lat import in_degrees
from pigmap.session.handing_out.table import Cell, Column, Handed, Kind, text_of
from pigmap.session.handing_out.xml_words import lost_letters, xml_words
from pigmap.text import Text

_TYPES: dict[Kind, str] = {"text": "string", "whole": "int", "number": "double", "truth": "bool", "day": "string"}
_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n<kml xmlns="http://www.opengis.net/kml/2.2">\n'
_STYLE = (
    '<Style id="edge"><LineStyle><color>ff00ffff</color><width>2</width></LineStyle>'
    "<PolyStyle><fill>0</fill></PolyStyle></Style>\n"
)


def write_kml(path: Path, handed: Handed, projection: Projection) -> tuple[Text, ...]:
    """Write a document with a placemark for each row."""
    shapes = in_degrees(handed, projection, "KML")
    columns = [each for each in handed.columns if each.name != "name"]
    with path.open("w", encoding="utf-8", newline="\n") as file:
        file.write(_HEAD)
        file.write(f'<Document id="{handed.name}"><name>{handed.name}</name>\n{_STYLE}')
        file.write(f'<Schema name="{handed.name}" id="columns">\n')
        file.writelines(
            f'<SimpleField name="{xml_words(each.name)}" type="{_TYPES[each.kind]}"/>\n' for each in columns
        )
        file.write("</Schema>\n")
        file.writelines(_placemarks(handed, columns, shapes))
        file.write("</Document>\n</kml>\n")
    return lost_letters(handed, "KML")


def _placemarks(handed: Handed, columns: list[Column], shapes: list[BaseGeometry | None]) -> Iterator[str]:
    first, last = handed.column(handed.begins), handed.column(handed.ends)
    for at, (called, shape) in enumerate(zip(handed.called, shapes, strict=True)):
        told = [(each.name, each.values[at]) for each in columns]
        yield "<Placemark>"
        yield f"<name>{xml_words(called)}</name>"
        yield _when(first.values[at] if first else None, last.values[at] if last else None, span=last is not None)
        yield "<styleUrl>#edge</styleUrl>"
        yield f'<ExtendedData><SchemaData schemaUrl="#columns">{"".join(map(_told, told))}</SchemaData></ExtendedData>'
        yield "" if shape is None else kml_shape(shape)
        yield "</Placemark>\n"


def _told(told: tuple[str, Cell]) -> str:
    name, value = told
    if value is None:
        return ""
    words = str(int(value)) if isinstance(value, bool) else text_of(value)
    return f'<SimpleData name="{xml_words(name)}">{xml_words(words)}</SimpleData>'


def _when(first: Cell, last: Cell, *, span: bool) -> str:
    if first is None:
        return ""
    if not span:
        return f"<TimeStamp><when>{text_of(first)}</when></TimeStamp>"
    end = f"<end>{text_of(last)}</end>" if last is not None else ""
    return f"<TimeSpan><begin>{text_of(first)}</begin>{end}</TimeSpan>"


def kml_shape(shape: BaseGeometry) -> str:
    """Return a shape in degrees as KML."""
    if isinstance(shape, shapely.Point):
        return f"<Point>{_coordinates(shape)}</Point>"
    if isinstance(shape, shapely.LineString):
        return f"<LineString><tessellate>1</tessellate>{_coordinates(shape)}</LineString>"
    if isinstance(shape, shapely.Polygon):
        holes = "".join(f"<innerBoundaryIs>{_ring(each)}</innerBoundaryIs>" for each in shape.interiors)
        outer = f"<outerBoundaryIs>{_ring(shape.exterior)}</outerBoundaryIs>"
        return f"<Polygon><tessellate>1</tessellate>{outer}{holes}</Polygon>"
    return f"<MultiGeometry>{''.join(kml_shape(part) for part in shapely.get_parts(shape))}</MultiGeometry>"


def _ring(ring: BaseGeometry) -> str:
    return f"<LinearRing>{_coordinates(ring)}</LinearRing>"


def _coordinates(line: BaseGeometry) -> str:
    pairs = " ".join(f"{lon:.9f},{lat:.9f}" for lon, lat in shapely.get_coordinates(line).tolist())
    return f"<coordinates>{pairs}</coordinates>"
