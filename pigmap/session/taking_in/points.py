"""Rows of a file as places: gates, water points, trees and what else stays at a point."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from pigmap.records import Place, PlaceKind
from pigmap.session.taking_in.lines import kind_told, name_and_note
from pigmap.session.taking_in.rows import Row, Rows, same_shape
from pigmap.session.taking_in.shapes import points_of
from pigmap.session.taking_in.values import number

PLACES: Mapping[str, PlaceKind] = {
    "gateway": PlaceKind.GATE,
    "water": PlaceKind.WATER_POINT,
    "tap": PlaceKind.WATER_POINT,
    "trough": PlaceKind.WATER_POINT,
    "hydrant": PlaceKind.WATER_POINT,
    "barn": PlaceKind.SHED,
    "yard": PlaceKind.SHED,
    "loading": PlaceKind.LOADING_PLACE,
    "ramp": PlaceKind.LOADING_PLACE,
    "energiser": PlaceKind.ENERGIZER,
    "earth stake": PlaceKind.EARTH_ROD,
    "ground rod": PlaceKind.EARTH_ROD,
}
"""Other words for kinds of places. Own choice."""


class PlaceRows(Rows[Place]):
    """Points, each a place."""

    record = Place
    shape = "point"

    def called(self, row: Row) -> str:
        """Return its name, else its kind."""
        return row.words("name") or row.words("kind") or row.incoming.name

    def read(self, row: Row) -> dict[str, Any]:
        """Return the first point and what the columns tell."""
        kind = kind_told(self, row, PlaceKind, PLACES)
        self._points = points_of(row, self.called(row))
        found: dict[str, Any] = {"kind": kind, "point": self._points[0], **name_and_note(self, row, kind)}
        if "radius_m" in row.given:
            found["radius_m"] = number(row.given["radius_m"], "the radius in m") or 0.0
        return found

    def more(self, row: Row, told: dict[str, Any]) -> Sequence[dict[str, Any]]:
        """Return the further points."""
        return [{**told, "point": point} for point in self._points[1:]]

    def alike(self, one: Place, other: Place) -> bool:
        """Whether two places have one kind, name and point."""
        return (one.kind, one.name) == (other.kind, other.name) and same_shape(one.point, other.point)
