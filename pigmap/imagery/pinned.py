"""An image whose file does not tell where it lies: read by the pins that a person set."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np

from pigmap.errors import RasterError, RecordError
from pigmap.geometry.coordinates import is_of_earth, parsed
from pigmap.geometry.native import own_data
from pigmap.geometry.pinned import Fit, Pin, fit_pins
from pigmap.imagery.look import AS_IT_IS, Look, with_look
from pigmap.imagery.opening import opened
from pigmap.imagery.source import ImageSource
from pigmap.imagery.vet import vet_unplaced
from pigmap.imagery.where import called, reading, web_address
from pigmap.records import Projection

FLAT = "EPSG:32631"
"""Any metres: what is read is already in those of the farm, or in pixels, and nothing is moved to others."""
_BEND_POINTS = 5
"""A bend is told to the reader by so many points along each side."""


def pins_text(pins: Sequence[Pin]) -> str:
    """Return pins as they are kept in a farm file."""
    kept = [
        {
            "column": round(pin.column, 2),
            "row": round(pin.row, 2),
            "east_m": round(pin.east_m, 3),
            "north_m": round(pin.north_m, 3),
        }
        for pin in pins
    ]
    return json.dumps(kept)


def pins_of(text: str) -> tuple[Pin, ...]:
    """Return the pins that were kept.

    Raises
    ------
    RasterError
        If they cannot be read: another program may have written there.
    """
    try:
        told = json.loads(text) if text else []
        pins = tuple(Pin(*(float(each[name]) for name in Pin._fields)) for each in told)
    except (ValueError, TypeError, KeyError) as why:
        raise RasterError(
            "The pins of the picture cannot be read.",
            remedy="Pin the picture again, at three points or more.",
        ) from why
    if not np.isfinite(pins).all():
        raise RasterError(
            "A pin of the picture lies nowhere (a coordinate that is not a number).",
            remedy="Pin the picture again, at three points or more.",
        )
    return pins


def open_pinned(path: Path, pins: str, projection: Projection, look: Look = AS_IT_IS) -> ImageSource:
    """Return the reader of a picture that lies where its pins put it, in the farm's metres, shown as a person wants.

    Raises
    ------
    RasterError
        If the file is no picture, or its pins do not place it.
    """
    fit = fit_pins(pins_of(pins), ground_per_grid=projection.ground_per_grid)
    facts = with_look(vet_unplaced(path), look)
    metres = _metres(projection)
    a, b, _, d, e, _ = fit.transform
    cell_m = max(float(np.hypot(a, d)), float(np.hypot(b, e))) * projection.ground_per_grid
    placed = replace(facts, crs=metres, transform=fit.transform, cell_m=cell_m, pins=pins)
    if fit.bent:  # never read straight: its rows do not run east
        placed = replace(placed, transform=(a, b or 1e-12, *fit.transform[2:]))
    return ImageSource(replace(placed, opens=_described(facts.path, metres, fit)), projection)


def open_flat(path: Path) -> ImageSource:
    """Return the reader of a picture in its own pixels: east is its columns, north its rows upwards from 0 down.

    Raises
    ------
    RasterError
        If the file is no picture.
    """
    facts = replace(vet_unplaced(path), crs=FLAT, pins="[]")
    return ImageSource(replace(facts, opens=_described(facts.path, FLAT, None)), _FLAT_PROJECTION)


_FLAT_PROJECTION = Projection(name="pixels", authority="NONE", code=100_003, definition=FLAT)


def _metres(projection: Projection) -> str:
    """Return the farm's system; any metres where it lies nowhere on earth."""
    try:
        return projection.definition if is_of_earth(parsed(projection.definition)) else FLAT
    except RecordError:
        return FLAT


def _described(path: Path, crs: str, fit: Fit | None) -> str:
    """Return a description of the picture for its reader, with its place in it."""
    own_data()
    from rasterio.io import MemoryFile
    from rasterio.shutil import copy

    with reading(), opened(path) as picture, MemoryFile(ext=".vrt") as kept:
        copy(picture, kept.name, driver="VRT")
        described = kept.read().decode()
        size = picture.width, picture.height
    return _with_place(described, crs, fit, size, beside=called(path) if web_address(path) else "")


def _with_place(described: str, crs: str, fit: Fit | None, size: tuple[int, int], *, beside: str) -> str:
    """Return a description with a place; on the web it names the picture as what stands beside it."""
    from xml.etree import ElementTree

    from rasterio.crs import CRS

    root: Any = ElementTree.fromstring(described)  # written by the reader itself a moment ago
    for named in root.iter("SourceFilename") if beside else ():
        named.text = beside
        named.set("relativeToVRT", "1")
    for name in ("SRS", "GeoTransform", "GCPList"):
        for each in root.findall(name):
            root.remove(each)
    system = CRS.from_user_input(crs).to_wkt()
    if fit is not None and fit.bent:
        points = ElementTree.Element("GCPList", Projection=system)
        for point in _bend(fit, size):
            ElementTree.SubElement(points, "GCP", point)
        root.insert(0, points)
    else:
        a, b, c, d, e, f = fit.transform if fit is not None else (1.0, 0.0, 0.0, 0.0, -1.0, 0.0)
        ElementTree.SubElement(root, "SRS").text = system
        ElementTree.SubElement(root, "GeoTransform").text = ", ".join(repr(float(each)) for each in (c, a, b, f, d, e))
    return ElementTree.tostring(root, encoding="unicode")


def _bend(fit: Fit, size: tuple[int, int]) -> list[dict[str, str]]:
    across, down = (np.linspace(0.0, side, _BEND_POINTS) for side in size)
    grid = np.stack(np.meshgrid(across, down), axis=-1).reshape(-1, 2)
    rows = np.hstack([grid, fit.to_ground(grid)]).tolist()
    return [
        {"Id": str(number), "Pixel": repr(column), "Line": repr(row), "X": repr(east), "Y": repr(north)}
        for number, (column, row, east, north) in enumerate(rows)
    ]
