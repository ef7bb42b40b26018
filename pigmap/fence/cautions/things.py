"""What things in the surroundings are called in the middle of a sentence, and how far they are off."""

from __future__ import annotations

import math

from shapely.geometry.base import BaseGeometry

from pigmap.records import Farm, Place, PlaceKind, Way, WayKind
from pigmap.text import Quantity, Text

_WAYS = {
    WayKind.PATH: Text("the path"),
    WayKind.ROAD: Text("the road"),
    WayKind.TRACK: Text("the track"),
    WayKind.RIDE: Text("the ride"),
    WayKind.HEDGE: Text("the hedge"),
    WayKind.DITCH: Text("the ditch"),
    WayKind.WATERCOURSE: Text("the watercourse"),
    WayKind.OVERHEAD_LINE: Text("the overhead line"),
    WayKind.PERMANENT_FENCE: Text("the permanent fence"),
}
_PLACES = {
    PlaceKind.SHED: Text("the shed"),
    PlaceKind.WATER_POINT: Text("the water point"),
    PlaceKind.ENERGIZER: Text("an energizer"),
    PlaceKind.EARTH_ROD: Text("the earth stakes"),
}


def called(name: str, kind: str, words: Text) -> Text:
    """Return the name of a thing; one that is only called what it is goes with its article: the pond."""
    return words if name.casefold() in ("", kind.casefold()) else Text("{name}", {"name": name})


def way_called(way: Way) -> Text:
    """Return what a way is called: its name, or 'the path'."""
    return called(way.name, way.kind, _WAYS.get(way.kind, Text(str(way.kind))))


def place_called(place: Place) -> Text:
    """Return what a place is called: its name, or 'the shed'."""
    return called(place.name, place.kind, _PLACES.get(place.kind, Text(str(place.kind))))


def begun(what: Text) -> Text:
    """Return what a thing is called at the begin of a sentence."""
    return Text(what.id[:1].upper() + what.id[1:], dict(what.values))


def ground_m(farm: Farm, one: BaseGeometry, other: BaseGeometry) -> float:
    """Return how far two things are apart [m of ground]."""
    return float(one.distance(other)) * farm.projection.ground_per_grid


def metres(length_m: float) -> Quantity:
    """Return a distance with the digits it needs, so that none reads as less than it is."""
    needed = next((digits for digits in (0, 1) if abs(round(length_m, digits) - length_m) < 1e-9), 2)
    return Quantity(length_m, "m", needed or None)


def near(length_m: float) -> Quantity:
    """Return how near something comes, rounded down to a tenth so that it never reads as far enough."""
    return Quantity(math.floor(length_m * 10 + 1e-9) / 10, "m", 1)
