"""Columns that stand beside the shapes of a GPX file, word for word: the vector library reads '50 m nets' as 50."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

GPX = "{http://www.topografix.com/GPX/1/1}"
COLUMNS = "{http://osgeo.org/gdal}"
"""Namespace under which this program and the vector library (GDAL 3.12) write columns into a GPX file."""
GUESSED = "ogr_"
"""What the vector library puts before the names of such columns; it guesses their kind."""

_TAGS = {"waypoints": "wpt", "routes": "rte", "tracks": "trk"}


def columns_in(path: Path, layer: str) -> list[dict[str, str]] | None:
    """Return the columns of each shape of a layer in the file's order; None where it has none of this kind."""
    tag = _TAGS.get(layer)
    if tag is None or path.suffix.lower() != ".gpx":
        return None
    try:
        root = ElementTree.parse(path).getroot()
    except (ElementTree.ParseError, LookupError, ValueError):  # the library reads what it can of it
        return None
    rows = [_columns(each) for each in root.findall(f"{GPX}{tag}")]
    return rows if any(rows) else None


def _columns(element: ElementTree.Element) -> dict[str, str]:
    told = element.find(f"{GPX}extensions")
    found = [] if told is None else [each for each in told if str(each.tag).startswith(COLUMNS)]
    return {str(each.tag).removeprefix(COLUMNS): each.text or "" for each in found}
