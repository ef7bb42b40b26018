"""Earth stakes of an energizer stay away from every other earth (W7)."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import NamedTuple

from pigmap.fence.cautions.caution import Caution, Level
from pigmap.fence.cautions.distances import distances_of
from pigmap.fence.cautions.energizers import ROUNDING_M
from pigmap.fence.cautions.things import begun, ground_m, metres, near, place_called
from pigmap.fence.tables import ENERGIZERS_SOURCE
from pigmap.records import Farm, Place, PlaceKind
from pigmap.text import Text, Value

_BUILT = (PlaceKind.SHED, PlaceKind.WATER_POINT)


class TooNear(NamedTuple):
    """Two places that are too near to each other, and what is said of them."""

    places: tuple[Place, Place]
    caution: Caution


def earths_too_near(farm: Farm) -> Iterator[TooNear]:
    """Yield earth stakes of two energizers that are too near to each other, then those near buildings and plumbing.

    Stakes belong to the energizer that is nearest to them. An energizer without any is taken to have them where it
    stands; since nobody said so, that only wants care.
    """
    apart = distances_of(farm).earths_apart_m
    earths = _earths(farm)
    for (one, of), (other, by) in combinations(earths, 2):
        if of != by and ground_m(farm, one.point, other.point) < apart - ROUNDING_M:
            yield _of_two(farm, one, other, apart)
    built = [place for place in farm.places.values() if place.kind in _BUILT]
    for stakes, _ in earths:
        for place in built if stakes.kind is PlaceKind.EARTH_ROD else ():
            if ground_m(farm, stakes.point, place.point) < apart - ROUNDING_M:
                yield _near_built(farm, stakes, place, apart)


def _earths(farm: Farm) -> list[tuple[Place, str]]:
    """Return where earth stakes are, each with the energizer they belong to; it is empty where there is none."""
    energizers = [place for place in farm.places.values() if place.kind is PlaceKind.ENERGIZER]
    found = []
    for stakes in (place for place in farm.places.values() if place.kind is PlaceKind.EARTH_ROD):
        nearest = min(energizers, key=lambda place: stakes.point.distance(place.point), default=None)
        found.append((stakes, nearest.uid if nearest is not None else ""))
    with_stakes = {uid for _, uid in found}
    return [*found, *((place, place.uid) for place in energizers if place.uid not in with_stakes)]


def _values(farm: Farm, one: Place, other: Place, apart: float) -> dict[str, Value]:
    off = ground_m(farm, one.point, other.point)
    return {
        "one": begun(place_called(one)),
        "other": place_called(other),
        "near": near(off),
        "apart": metres(apart),
    }


def _of_two(farm: Farm, one: Place, other: Place, apart: float) -> TooNear:
    values = _values(farm, one, other, apart)
    remedy = Text("Set the earth stakes of one {apart} or more from those of the other.", values)
    if PlaceKind.ENERGIZER in (one.kind, other.kind):
        words = Text("{one}: {near} from {other}, and nothing tells where the earth stakes of both are.", values)
        return TooNear((one, other), Caution("W7", Level.WARN, words, remedy, ENERGIZERS_SOURCE))
    words = Text("{one}: {near} from {other}, and the two are earths of two energizers.", values)
    return TooNear((one, other), Caution("W7", Level.STOP, words, remedy, ENERGIZERS_SOURCE, "reason"))


def _near_built(farm: Farm, stakes: Place, built: Place, apart: float) -> TooNear:
    values = _values(farm, stakes, built, apart)
    words = Text("{one}: {near} from {other}, which may have mains, metal or pipes.", values)
    remedy = Text("Set earth stakes {apart} or more from the earth of a building, from metal and from pipes.", values)
    return TooNear((stakes, built), Caution("W7", Level.WARN, words, remedy, ENERGIZERS_SOURCE))
