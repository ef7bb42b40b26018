"""Pins as a person types them: a point of the picture, and its place on the ground."""

from __future__ import annotations

import re

import shapely

from pigmap.errors import UsageError
from pigmap.geometry.coordinates import LON_LAT
from pigmap.geometry.pinned import Pin
from pigmap.geometry.projection import to_projection
from pigmap.geometry.typed_place import EXAMPLE, typed_place
from pigmap.records import Projection
from pigmap.session.new_farm import has_place

_NUMBER = r"[-+]?\d+(?:[.,]\d+)?"
_POINT = re.compile(rf"\s*({_NUMBER})\s*(?:[,/ ]|\s)\s*({_NUMBER})\s*")
_GRID = re.compile(rf"\s*[Ee]\s*({_NUMBER})\s*,?\s*[Nn]\s*({_NUMBER})\s*")


def typed_ground(words: str, projection: Projection) -> tuple[float, float]:
    """Return a place that was typed [grid m]: E and N of the farm's grid, or the pair of numbers that a phone shows.

    Raises
    ------
    PigmapError
        In words: what does not read as a place, or a pair of degrees on a farm that lies nowhere yet.
    """
    if found := _GRID.fullmatch(words):
        return _number(found[1]), _number(found[2])
    place = typed_place(words)
    if not has_place(projection):
        raise UsageError(
            "This farm has no place on the map of the world yet, so {words} lies nowhere on its grid.",
            remedy="Type metres of the grid: E 120 N 80; or give the farm its place, under More.",
            words=words.strip(),
        )
    (point,) = to_projection([shapely.Point(place.lon, place.lat)], LON_LAT, projection)
    east, north = shapely.get_coordinates(point)[0].tolist()
    return east, north


def typed_pin(words: str, projection: Projection) -> Pin:
    """Return a pin that was typed: ``120 340 at E 500100 N 5200300``, or ``120 340 at 47.03, -99.18``.

    Raises
    ------
    PigmapError
        In words: what is missing, or does not read.
    """
    point, at, place = words.partition(" at ")
    found = _POINT.fullmatch(point)
    if found is None or not at:
        raise UsageError(
            "{words} is not a point of the picture and its place.",
            remedy="Type 120 340 at {example}: 120 pixels from the left, 340 from the top, then the place.",
            words=words.strip() or "An empty line",
            example=EXAMPLE,
        )
    return Pin(_number(found[1]), _number(found[2]), *typed_ground(place, projection))


def _number(words: str) -> float:
    return float(words.replace(",", "."))
