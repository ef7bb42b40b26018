"""Fences along and across paths and roads: a gate or stile, and warning signs (W5)."""

from __future__ import annotations

import math
from collections.abc import Iterator

import shapely

from pigmap.fence.cautions.caution import Caution, Level, LiveGround
from pigmap.fence.cautions.distances import distances_of
from pigmap.fence.cautions.things import metres, way_called
from pigmap.fence.signs import SIGNS_SOURCE, signs_along
from pigmap.fence.tables import ANNEX, PUBLIC_M
from pigmap.records import Farm, Way, WayKind
from pigmap.text import Quantity, Text, Value

PUBLIC = (WayKind.PATH, WayKind.ROAD)


def public_ways(farm: Farm, live: LiveGround) -> Iterator[Caution]:
    """Yield the paths and roads that run through a paddock, and those along which its fence wants signs."""
    for way in _within_reach(farm, live):
        if _crossings(live.ground, way):
            yield _across(live, way)
        yield from _signs(farm, live, way)


def signs_along_ways(farm: Farm, live: LiveGround) -> Iterator[Caution]:
    """Yield the paths and roads along which a fence wants signs, without those that run through."""
    for way in _within_reach(farm, live):
        if not _crossings(live.ground, way):
            yield from _signs(farm, live, way)


def _within_reach(farm: Farm, live: LiveGround) -> Iterator[Way]:
    reach = PUBLIC_M / farm.projection.ground_per_grid
    ways = (way for way in farm.ways.values() if way.kind in PUBLIC)
    return (way for way in ways if shapely.dwithin(way.line, live.ground, reach))


def signs_wanted(farm: Farm, live: LiveGround, way: Way) -> int:
    """Return how many signs a fence wants along a way: where they can be reached from it, and at each crossing."""
    apart = distances_of(farm).signs_apart_m
    return signs_along(beside_m(farm, live.ground, way), apart, _crossings(live.ground, way))


def beside_m(farm: Farm, ground: shapely.Polygon, way: Way) -> float:
    """Return for how much of its way round some ground lies within reach of a way, in whole metres [m]."""
    scale = farm.projection.ground_per_grid
    reach = shapely.buffer(way.line, PUBLIC_M / scale)
    return math.floor(shapely.intersection(ground.exterior, reach).length * scale + 0.1)


def _crossings(ground: shapely.Polygon, way: Way) -> int:
    """Return how often a way goes through the fence; one that lies on it does not."""
    if not shapely.crosses(way.line, ground) and not shapely.within(way.line, ground):
        return 0
    met = shapely.intersection(way.line, ground.exterior)
    return max(int(shapely.get_num_geometries(met)), 1)


def _across(live: LiveGround, way: Way) -> Caution:
    values: dict[str, Value] = {"paddock": live.called, "way": way_called(way)}
    words = Text("{paddock} lies across {way}.", values)
    remedy = Text(
        "Set it to one side; or ask whoever the way belongs to, and leave a gate or stile there that is not live. "
        "Local rules come first."
    )
    return Caution("W5", Level.WARN, words, remedy, ANNEX, "reason")


def _signs(farm: Farm, live: LiveGround, way: Way) -> Iterator[Caution]:
    signs, length = signs_wanted(farm, live, way), beside_m(farm, live.ground, way)
    if not signs:
        return
    apart = distances_of(farm).signs_apart_m
    values: dict[str, Value] = {
        "paddock": live.called,
        "way": way_called(way),
        "length": Quantity(length, "m", 0),
        "apart": metres(apart),
    }
    words = Text(
        "{paddock} stands along {way} for {length}: {count} warning sign.",
        values,
        plural="{paddock} stands along {way} for {length}: {count} warning signs.",
        count=signs,
    )
    remedy = Text(
        "Hang one at each end and at each crossing, at most {apart} apart. Local rules come first.",
        values,
    )
    yield Caution("W5", Level.WARN, words, remedy, SIGNS_SOURCE)
