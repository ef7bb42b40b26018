"""What a sheet tells to take care of: the usual cautions, and what lies on and beside the field."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from itertools import islice

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.builtin.reports.sheet_fences import (
    AHEAD,
    Fence,
    across_water,
    fences_on,
    signs,
    steep_ground,
    stops,
    wildlife,
)
from pigmap.drawing.plates import keep_out_name
from pigmap.drawing.surroundings import keep_outs_on
from pigmap.fence.cautions.weather import earth_return
from pigmap.geometry.steep import SlopeCells
from pigmap.planning.names import paddock_called
from pigmap.planning.verify import NOTHING_KNOWN
from pigmap.records import Farm, Field, KeepOut, Reason, StayState, WayKind
from pigmap.text import Quantity, Text, Value

_NEAR_M = 40.0
"""Things up to here from a field are told of [grid m]. Own choice."""
_BESIDE_M = 8.0
_MOST_TOLD = 5
"""Keep-outs that are told of one by one; there is no room for more."""
_MOST_PLACED = 2
"""Paddocks placed all the same that are told of; there is no room for more."""


def cautions_of(
    farm: Farm, fields: Sequence[Field], day: date, slopes: Mapping[str, SlopeCells] = NOTHING_KNOWN
) -> tuple[Text, ...]:
    """Return the cautions in the order of their weight; all of them are common practice, none is a rule.

    How steep the fields are is told by their uids, where terrain images tell it.
    """
    ground = shapely.union_all([field.outline for field in fields])
    fences = fences_on(farm, ground, day)
    return (
        Text("Switch the energizer off before you handle a net."),
        *_overhead(farm, ground, day),
        *stops(farm, fences),
        *across_water(farm, fences),
        *_all_the_same(farm, ground, day),
        *_public(farm, ground, fences),
        *_weather(farm, day),
        *_keep_outs(farm, ground, day),
        *steep_ground(fences, slopes),
        wildlife(farm, fences) or Text("Look along the nets for caught wildlife every day."),
        Text("Figures are advice. Local rules come first."),
    )


def _weather(farm: Farm, day: date) -> Iterator[Text]:
    found = earth_return(farm, Text("The ground"), day)
    if found is not None:
        yield Text("{words} Read volts against a probe in it.", {"words": found.words})


def _overhead(farm: Farm, ground: BaseGeometry, day: date) -> Iterator[Text]:
    lines: list[BaseGeometry] = [way.line for way in farm.ways.values() if way.kind is WayKind.OVERHEAD_LINE]
    lines += [each.shape for each in keep_outs_on(farm, day) if each.reason is Reason.OVERHEAD_LINE]
    if any(line.distance(ground) < _NEAR_M for line in lines):
        yield Text("Keep nets, poles and the vehicle clear of the overhead line. Its owner can tell you the distance.")


def _all_the_same(farm: Farm, ground: BaseGeometry, day: date) -> Iterator[Text]:
    """Yield what was placed in spite of what is against it, with the reason: what stands and what comes next."""
    known = [
        stay
        for stay in farm.stays.values()
        if stay.why_planned and stay.state is not StayState.PAST and stay.in_on <= day + AHEAD
    ]
    told = [stay for stay in known if stay.out_on is None or stay.out_on > day]
    told.sort(key=lambda stay: (stay.in_on, stay.uid))
    for stay in islice((stay for stay in told if stay.ground.intersects(ground)), _MOST_PLACED):
        placed: dict[str, Value] = {"paddock": paddock_called(farm, stay.paddock_uid), "why": stay.why_planned}
        yield Text("{paddock} is placed all the same: {why}.", placed)


def _public(farm: Farm, ground: BaseGeometry, fences: Sequence[Fence]) -> Iterator[Text]:
    counted = signs(farm, fences)
    if counted is not None:
        yield counted
        return
    ways = (way for way in farm.ways.values() if way.kind in (WayKind.PATH, WayKind.ROAD))
    if any(way.line.distance(ground) < _BESIDE_M for way in ways):
        yield Text("People pass by: hang warning signs where they can reach the fence.")


def _keep_outs(farm: Farm, ground: BaseGeometry, day: date) -> Iterator[Text]:
    told: set[str] = set()
    for each in keep_outs_on(farm, day):
        text = _of(each)
        if each.reason is not Reason.OVERHEAD_LINE and str(text) not in told and each.shape.distance(ground) < 1.0:
            told.add(str(text))
            if len(told) > _MOST_TOLD:
                yield Text("Keep off the other hatched ground too.")
                return
            yield text


def _of(each: KeepOut) -> Text:
    distance = max(each.net_m, each.gear_m)
    values: dict[str, Value] = {"name": keep_out_name(each), "distance": Quantity(distance, "m")}
    if each.reason.is_water and distance:
        return Text("{name}: keep {distance} off with fuel, feed and washing. Ground may be soft.", values)
    if each.reason.is_water:
        return Text("{name}: keep fuel, feed and washing away. Ground may be soft.", {"name": values["name"]})
    if distance:
        return Text("{name}: keep {distance} off.", values)
    return Text("{name}: keep off.", {"name": values["name"]})
