"""How far someone walks with the nets of a move: from where the vehicle stands to where they begin, and back."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

import shapely

from pigmap.records import Farm

NETS_A_TRIP = 2
"""Nets that one person carries at a time; 3 if they are light, 1 where it is wet. From memory, assumed."""
SETTING = "nets a trip"
"""The farm's setting for it."""
MOST_A_TRIP = 10


class Walked(NamedTuple):
    """The ways of one person, or of each of several who share the nets."""

    trips: int
    walk_m: float
    """What all of them walk together [m of ground]."""


def nets_a_trip(farm: Farm) -> int:
    """Return how many nets one person carries at a time on a farm."""
    told = farm.setting(SETTING)
    is_count = isinstance(told, int) and not isinstance(told, bool) and 1 <= told <= MOST_A_TRIP
    return told if is_count else NETS_A_TRIP


def walked(
    nets: Sequence[shapely.LineString], vehicle: shapely.Point, a_trip: int, ground_per_grid: float = 1.0
) -> Walked:
    """Return how far is walked to set nets one after the other, or to take them up.

    With so many nets at a time one goes from the vehicle to where the first of them begins, along all of them, and
    from where the last ends back to the vehicle.

    Parameters
    ----------
    nets
        Where each stands, in the order in which they are set [grid m].
    vehicle
        Where it stands [grid m].
    a_trip
        How many nets are carried at a time.
    ground_per_grid
        Ground metres in one grid metre.

    Examples
    --------
    >>> sides = [shapely.LineString([(0, 0), (0, 50)]), shapely.LineString([(0, 50), (50, 50)])]
    >>> [(found.trips, round(found.walk_m)) for found in (walked(sides, shapely.Point(0, 0), nets) for nets in (1, 2))]
    [(2, 271), (1, 171)]
    """
    way, count = 0.0, 0
    for first in range(0, len(nets), a_trip):
        carried = nets[first : first + a_trip]
        begin, end = shapely.Point(carried[0].coords[0]), shapely.Point(carried[-1].coords[-1])
        way += vehicle.distance(begin) + end.distance(vehicle)
        way += sum(net.length for net in carried)
        way += sum(_apart(one, other) for one, other in pairwise(carried))
        count += 1
    return Walked(count, way * ground_per_grid)


def _apart(one: shapely.LineString, other: shapely.LineString) -> float:
    return shapely.Point(one.coords[-1]).distance(shapely.Point(other.coords[0]))
