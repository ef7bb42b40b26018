"""Corners of a paddock from a phone: its waypoints or its track in a file, or the pair of numbers that it shows."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.errors import OutlineError, UsageError
from pigmap.geometry.projection import to_projection
from pigmap.plugins import Registry
from pigmap.records import Projection
from pigmap.session.brought import read_outlines
from pigmap.session.new_farm import has_place
from pigmap.session.typed_pin import typed_ground
from pigmap.text import Text

PHONE_FILES = (".gpx", ".kml", ".kmz", ".geojson")
"""Ends of the names of files that phones make."""
PHONE_ERRS_M = 3.0
"""A corner of a track that is no farther off the straight line is none [m]: so much a phone errs. Own choice."""

_DEGREES = r"[-+]?\d{1,3}[.,]\d{3,}"
_PAIR = re.compile(rf"\s*{_DEGREES}\s*[,; ]\s*{_DEGREES}\s*")
_LETTERS = re.compile(r"[NnSs].*[EeWw]|[EeWw].*[NnSs]")

Corner = tuple[float, float]


def is_phone_pair(words: str) -> bool:
    """Whether words are the two numbers of a place as a phone shows them, and not a length and a direction.

    Examples
    --------
    >>> is_phone_pair("50.123456, 9.123456"), is_phone_pair("50° 7' N 9° 7' E"), is_phone_pair("50 at 90°")
    (True, True, False)
    """
    return bool(_PAIR.fullmatch(words)) or ("°" in words and bool(_LETTERS.search(words)))


def corner_shown(words: str, projection: Projection) -> Corner:
    """Return the place of a pair of numbers that a phone shows [grid m].

    Raises
    ------
    PigmapError
        In words: what does not read as a place, or that the farm has none.
    """
    return typed_ground(words, projection)


def corners_in(path: Path, projection: Projection, registry: Registry) -> tuple[Corner, ...]:
    """Return the corners that a file of a phone holds, in order [grid m].

    Waypoints are corners as they are; a track or an outline gives those where it really turns.

    Raises
    ------
    PigmapError
        If the file cannot be read, holds fewer than three places, or the farm has no place on earth.
    """
    if not has_place(projection):
        raise UsageError(
            "This farm has no place on the map of the world yet, so the places in {file} lie nowhere on its grid.",
            remedy="Click the corners, or give the farm its place, under More.",
            file=path.name,
        )
    layer = read_outlines(path, registry)
    shapes = [row.shape for row in layer.rows if row.shape is not None and not row.shape.is_empty]
    corners = _corners(to_projection(shapes, layer.crs, projection))
    if len(corners) < 3:
        words = "{file} holds {count} place; a paddock has three corners or more."
        many = "{file} holds {count} places; a paddock has three corners or more."
        raise OutlineError(
            Text(words, {"file": path.name}, plural=many, count=len(corners)),
            remedy="Mark each corner with the phone, or walk round the nets, and give that file.",
        )
    return tuple((east, north) for east, north in corners.tolist())


def _corners(shapes: list[BaseGeometry]) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """Return the corners of the largest outline, else of the longest line, else the points in order."""
    parts = shapely.get_parts(np.array(shapes, dtype=object)) if shapes else np.array([], dtype=object)
    dimensions = shapely.get_dimensions(parts)
    if not len(parts) or dimensions.max() == 0:
        return shapely.get_coordinates(parts)
    best = max(parts[dimensions == dimensions.max()], key=lambda part: part.length)
    line = best.exterior if dimensions.max() == 2 else best
    points = shapely.get_coordinates(_turns(line))
    ends_meet = len(points) > 3 and np.hypot(*(points[0] - points[-1])) <= 2 * PHONE_ERRS_M
    return points[:-1] if ends_meet else points


def _turns(line: BaseGeometry) -> BaseGeometry:
    return shapely.simplify(line, PHONE_ERRS_M) if shapely.get_num_coordinates(line) > 8 else line
