"""Where dung falls in a paddock whose gear has a known place: more of it on some of the ground, the same in all.

Printed is only how much falls on how much ground, and roughly where: not at the trough, but between it, or the hut, and
the shade. So the zone is that share of the paddock which lies nearest to the middle of those ways (assumed). Where no
shade, or neither hut nor feeder, has a place, dung counts as evenly spread.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.ground.tables import DUNG_ZONE_DROPPED, DUNG_ZONE_GROUND
from pigmap.records import AS_PLANNED, Farm, GearKind, StandingGear, Stay, gear_standing
from pigmap.records.frozen import dataclass

_FROM = frozenset((GearKind.HUT, GearKind.FEEDER))
_STEPS = 24
"""Halvings of the distance at which the zone ends: to a millionth of the way across a field."""
_ALL_IN = 0.97
"""Share of a paddock's ground from which its cells count as all of it: cells along an edge come and go."""


@dataclass(frozen=True, slots=True, eq=False)
class Zone:
    """Where more falls from a day to another one, on the ground of a stay."""

    ground: BaseGeometry
    share: float
    """Of the paddock's ground."""
    first: int
    """Ordinal of the first day."""
    end: int | None
    """Ordinal of the first day after it; None where no end is in sight."""


def times_in_and_out(share: float) -> tuple[float, float]:
    """Return how many times the even load falls inside a zone of some share of the ground, and outside.

    Examples
    --------
    >>> [round(times, 2) for times in times_in_and_out(0.15)]
    [3.27, 0.6]
    """
    return DUNG_ZONE_DROPPED / share, (1.0 - DUNG_ZONE_DROPPED) / (1.0 - share)


def zone_ground(paddock: BaseGeometry, gear: Sequence[tuple[GearKind, shapely.Point]]) -> BaseGeometry | None:
    """Return the ground of a paddock on which more falls; None where the gear that tells it has no place."""
    starts = [point for kind, point in gear if kind in _FROM]
    shades = [point for kind, point in gear if kind is GearKind.SHADE]
    if not starts or not shades or paddock.area <= 0.0:
        return None
    middle = shapely.union_all([_middle(start, shade) for start in starts for shade in shades])
    wanted = DUNG_ZONE_GROUND * paddock.area
    near, far = 0.0, float(shapely.hausdorff_distance(middle, paddock)) + 1.0
    for _ in range(_STEPS):
        half = (near + far) / 2.0
        if middle.buffer(half, quad_segs=8).intersection(paddock).area < wanted:
            near = half
        else:
            far = half
    return middle.buffer(far, quad_segs=8).intersection(paddock)


def _middle(start: shapely.Point, shade: shapely.Point) -> BaseGeometry:
    """Return the middle half of the way from hut or feeder to shade: its ends are not where most falls."""
    a, b = np.array(start.coords[0]), np.array(shade.coords[0])
    if float(np.hypot(*(b - a))) < 1e-6:
        return start
    return shapely.LineString([a + (b - a) / 4.0, b - (b - a) / 4.0])


class Zones:
    """The zones of stays, kept while gear and ground stay where they are."""

    def __init__(self) -> None:
        self._kept: dict[tuple[object, ...], tuple[BaseGeometry, BaseGeometry | None]] = {}

    def of(self, farm: Farm, today: date = AS_PLANNED) -> Mapping[str, tuple[Zone, ...]]:
        """Return the zones of each stay that has any, by its uid, in order of time."""
        by_stay: dict[str, list[StandingGear]] = {}
        for each in gear_standing(farm, today):
            by_stay.setdefault(each.stay_uid, []).append(each)
        found = {uid: tuple(self._of_stay(farm.stays[uid], its)) for uid, its in by_stay.items()}
        return {uid: zones for uid, zones in found.items() if zones}

    def _of_stay(self, stay: Stay, gear: Sequence[StandingGear]) -> Iterator[Zone]:
        days = sorted({each.first for each in gear} | {each.end for each in gear if each.end is not None})
        for first, end in zip(days, [*days[1:], None], strict=True):
            standing = [(each.place.kind, each.place.point) for each in gear if each.covers(first)]
            ground = self._ground(stay.ground, standing)
            if ground is not None:
                until = end.toordinal() if end is not None else None
                yield Zone(ground, ground.area / stay.ground.area, first.toordinal(), until)

    def _ground(self, paddock: BaseGeometry, gear: list[tuple[GearKind, shapely.Point]]) -> BaseGeometry | None:
        stands = tuple(sorted((str(kind), point.x, point.y) for kind, point in gear))
        key = (paddock.bounds, *stands)
        kept = self._kept.get(key)
        if kept is None or not (kept[0] is paddock or kept[0].equals(paddock)):
            kept = self._kept[key] = paddock, zone_ground(paddock, gear)
        return kept[1]


def pieces_in_zones(
    stay: NDArray[np.int64], begin: NDArray[np.int64], end: NDArray[np.int64], by_stay: Mapping[int, tuple[Zone, ...]]
) -> tuple[NDArray[np.intp], NDArray[np.int64], NDArray[np.int64], NDArray[np.int64], tuple[Zone, ...]]:
    """Return pieces of stays, cut where a zone begins or ends.

    Parameters
    ----------
    stay, begin, end
        Stay of each piece, and its days (ordinals), (m,).
    by_stay
        The zones of some stays.

    Returns
    -------
    piece, begin, end, zone, zones
        Of which piece each is now, its days, the number of its zone or -1, (n,), and all zones.
    """
    zones: list[Zone] = []
    number: dict[int, int] = {}
    cut: list[tuple[int, int, int, int]] = []
    for piece, (at, first, after) in enumerate(zip(stay.tolist(), begin.tolist(), end.tolist(), strict=True)):
        its = by_stay.get(at, ())
        for zone in its:
            if id(zone) not in number:
                number[id(zone)] = len(zones)
                zones.append(zone)
        turns = [day for zone in its for day in (zone.first, zone.end) if day is not None]
        days = sorted({first, after, *(day for day in turns if first < day < after)})
        for one, other in pairwise(days):
            cut.append((piece, one, other, next((number[id(zone)] for zone in its if _holds(zone, one)), -1)))
    rows = np.array(cut, dtype=np.int64).reshape(-1, 4)
    return rows[:, 0].astype(np.intp), rows[:, 1], rows[:, 2], rows[:, 3], tuple(zones)


def _holds(zone: Zone, day: int) -> bool:
    return zone.first <= day and (zone.end is None or day < zone.end)


def falls(
    inside: int, outside: int, zone: Zone, paddock: BaseGeometry, field: BaseGeometry, cell_m2: float
) -> tuple[float, float]:
    """Return how many times the even load falls on the cells inside and outside a zone.

    What falls on all cells together is what would fall on them evenly, so that the sum over a paddock stays that of its
    group; where a paddock lies on two fields, each gets the share that its part of the zone calls for.
    """
    within, without = times_in_and_out(zone.share)
    count, whole = inside + outside, paddock.area
    due = 1.0
    if count * cell_m2 < _ALL_IN * whole:
        of_zone = zone.ground.intersection(field).area
        of_all = max(paddock.intersection(field).area, 1e-9)
        due = (within * of_zone + without * (of_all - of_zone)) / of_all
    even = due * count / max(within * inside + without * outside, 1e-9)
    return within * even, without * even
