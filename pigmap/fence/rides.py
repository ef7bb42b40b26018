"""Sides of paddocks along rides of a wood, and how long it takes to clear a line for their nets."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
import shapely

from pigmap.fence.cautions.things import way_called
from pigmap.geometry.sides import edges_of
from pigmap.records import Farm, Way, WayKind
from pigmap.text import Quantity, Text, Value

BESIDE_M = 4.0
"""A side that runs so near to the middle of a ride stands on it [m of ground]. Own choice."""
LEAST_M = 5.0
"""Less of a side along a ride than this only meets it [m of ground]. Own choice."""


class AlongRide(NamedTuple):
    """Sides along one ride."""

    way: Way
    length_m: float
    """How much of them runs along it [m of ground]."""
    minutes: float | None
    """How long it takes to clear that much; None where nobody has told it of the ride."""


def along_rides(farm: Farm, outline: shapely.Polygon) -> tuple[AlongRide, ...]:
    """Return the rides that sides of some ground run along, and how long clearing takes: its share of the whole ride.

    Parameters
    ----------
    farm
        Whose rides.
    outline
        The ground [grid m].
    """
    return tuple(_along(farm, outline))


def _along(farm: Farm, outline: shapely.Polygon) -> Iterator[AlongRide]:
    per_grid = farm.projection.ground_per_grid
    for way in farm.ways.values():
        if way.kind is not WayKind.RIDE or not shapely.dwithin(way.line, outline, BESIDE_M / per_grid):
            continue
        strip = shapely.buffer(way.line, BESIDE_M / per_grid, cap_style="flat")
        length = sum(_beside(edge, strip, way.line) for edge in edges_of([outline])) * per_grid
        if length >= LEAST_M:
            whole = way.line.length * per_grid
            share = min(length / whole, 1.0)
            yield AlongRide(way, length, None if way.minutes_to_clear is None else way.minutes_to_clear * share)


def _beside(edge: np.ndarray, strip: shapely.Polygon, line: shapely.LineString) -> float:
    """Return how much of a side lies on a ride and goes its way [grid m]; one that crosses it has none."""
    side = shapely.LineString(edge)
    inside = side.intersection(strip)
    if inside.is_empty:
        return 0.0
    way = np.diff(edge, axis=0)[0]
    on = [line.interpolate(line.project(shapely.Point(point))) for point in shapely.get_coordinates(inside)[[0, -1]]]
    along = float(np.hypot(on[1].x - on[0].x, on[1].y - on[0].y))
    return float(inside.length) if along >= 0.7 * inside.length and np.any(way) else 0.0


def clearing_words(along: AlongRide) -> Text:
    """Return how long clearing takes, in words, or that nobody told it."""
    values: dict[str, Value] = {"ride": way_called(along.way), "length": Quantity(along.length_m, "m", 0)}
    if along.minutes is None:
        return Text("{length} of it runs along {ride}; how long it takes to clear is not told.", values)
    minutes = max(1, round(along.minutes))
    return Text(
        "{length} of it runs along {ride}: about {count} minute to clear.",
        values,
        plural="{length} of it runs along {ride}: about {count} minutes to clear.",
        count=minutes,
    )


def clearing_remedy(along: AlongRide) -> Text:
    """Return what to do about it."""
    if along.minutes is None:
        return Text("Pick the ride and say how many minutes all of it takes.")
    return Text("Clear it the day before.")
