"""What a sheet tells of live fences that stand, or come within days: what stops, signs, wildlife, frost and drought."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from itertools import combinations, islice
from typing import NamedTuple

from shapely.geometry.base import BaseGeometry

from pigmap.fence.cautions.barbed import barbed_fences
from pigmap.fence.cautions.caution import Caution, Level, LiveGround
from pigmap.fence.cautions.distances import distances_of
from pigmap.fence.cautions.energizers import beside_live_fences, two_energizers
from pigmap.fence.cautions.overhead import overhead_lines
from pigmap.fence.cautions.public import PUBLIC, signs_wanted
from pigmap.fence.cautions.steep import steep_fence
from pigmap.fence.cautions.things import metres
from pigmap.fence.cautions.watercourses import watercourses_crossed
from pigmap.fence.cautions.wildlife import along_wild_edges, listed, wild_edges
from pigmap.geometry.steep import SlopeCells
from pigmap.planning.cautions import live_ground, stand_together
from pigmap.records import Farm, Lasting, StayState, lasting_on
from pigmap.text import Text, Value

AHEAD = timedelta(days=14)
"""So far ahead a sheet tells of what is planned. Own choice."""
_MOST_STOPS = 2
"""Of what stops so many are told, each of another kind; there is no room for more."""
_MOST_NAMED = 4
"""Paddocks that are named with their signs; there is no room for more."""


class Fence(NamedTuple):
    """One live fence, and when it stands."""

    live: LiveGround
    lasting: Lasting


def fences_on(farm: Farm, ground: BaseGeometry, day: date) -> list[Fence]:
    """Return the live fences on some ground that stand on a day or come within `AHEAD`, the first to come first."""
    coming = [
        each
        for each in lasting_on(farm, day).values()
        if each.stay.state is not StayState.PAST
        and each.meets(day, day + AHEAD)
        and each.stay.ground.intersects(ground)
    ]
    coming.sort(key=lambda each: (each.first, each.stay.uid))
    found: dict[str, Fence] = {}
    for each in coming:
        found.setdefault(each.stay.paddock_uid, Fence(live_ground(farm, each.stay), each))
    return [*found.values()]


def stops(farm: Farm, fences: Sequence[Fence]) -> Iterator[Text]:
    """Yield what stops some fences: the first of each kind, overhead lines before all others."""
    first: dict[str, Text] = {}
    for caution in _stops(farm, fences):
        if caution.level is Level.STOP:
            first.setdefault(caution.id, caution.words)
    yield from islice(first.values(), _MOST_STOPS)


def _stops(farm: Farm, fences: Sequence[Fence]) -> Iterator[Caution]:
    for each in fences:
        yield from overhead_lines(farm, each.live)
    for one, other in combinations(fences, 2):
        caution = two_energizers(farm, one.live, other.live) if stand_together(one.lasting, other.lasting) else None
        if caution is not None:
            yield caution
    for each in fences:
        yield from beside_live_fences(farm, each.live)
        yield from barbed_fences(farm, each.live)


def signs(farm: Farm, fences: Sequence[Fence]) -> Text | None:
    """Return how many warning signs each of some fences wants; None where none stands along a path or road."""
    ways = [way for way in farm.ways.values() if way.kind in PUBLIC]
    wanted = [(each.live.called, sum(signs_wanted(farm, each.live, way) for way in ways)) for each in fences]
    named = [Text("{signs} at {paddock}", {"paddock": paddock, "signs": count}) for paddock, count in wanted if count]
    if not named:
        return None
    values: dict[str, Value] = {
        "named": listed(named[:_MOST_NAMED]),
        "apart": metres(distances_of(farm).signs_apart_m),
    }
    return Text("People pass by. Warning signs at most {apart} apart: {named}.", values)


def across_water(farm: Farm, fences: Sequence[Fence]) -> Iterator[Text]:
    """Yield which fences go across a watercourse, so many as there is room for."""
    found = (caution for each in fences for caution in watercourses_crossed(farm, each.live))
    for caution in islice(found, _MOST_STOPS):
        yield Text("{words} Live wire keeps out of water.", {"words": caution.words})


def steep_ground(fences: Sequence[Fence], slopes: Mapping[str, SlopeCells]) -> Iterator[Text]:
    """Yield which fences go over steep ground, all in one sentence."""
    steep = [each.live.called for each in fences if steep_fence(each.live, slopes.values()) is not None]
    if steep:
        named = listed([Text("{paddock}", {"paddock": called}) for called in steep[:_MOST_NAMED]])
        yield Text("Steep ground leaves holes under nets, and takes more of them: {named}.", {"named": named})


def wildlife(farm: Farm, fences: Sequence[Fence]) -> Text | None:
    """Return on which fences wild animals run into a side most likely; None where on none."""
    edges = wild_edges(farm)
    along = [each.live for each in fences if along_wild_edges(farm, each.live, edges) is not None]
    if not along:
        return None
    named = listed([Text("{paddock}", {"paddock": each.called}) for each in along[:_MOST_NAMED]])
    return Text("Look for caught wildlife every day, first along water and woods: {named}.", {"named": named})
