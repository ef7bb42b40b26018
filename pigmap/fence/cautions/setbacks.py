"""Paddocks and gear near water, wells and flow lines: what is usually kept, as a caution; local rules come first."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.fence.cautions.caution import Caution, Level, LiveGround
from pigmap.fence.cautions.things import called, ground_m, metres, near, way_called
from pigmap.geometry.kept_out import kept_out
from pigmap.records import Farm, GearKind, KeepOut, Reason, WayKind
from pigmap.text import Text, Value
from pigmap.text.source import SETBACKS, SETBACKS_FLOW

WATER_M, WELL_M = 10.0, 50.0
"""What pigs, feed and shelter are kept off a water-course, and off a spring, well or borehole [m].

Public page of the pig trade on the farming rules for water of England: feeders 10 m from water, 50 m from a spring,
well or borehole. Elsewhere 3 to 30 m are printed (NRCS 390 and 391, European buffer strips). Assumed: the same for
paddocks.
"""
FLOW_M = 10.0
"""The same off a line along which water runs in hard rain [m]. Assumed: as off water, where it ends up."""
SETTINGS = {"water": "water setback", "well": "well setback", "flow": "flow line setback"}
"""The farm's setting for each distance [m]."""

_WATER_REASONS = {
    Reason.POND: Text("the pond"),
    Reason.WATERCOURSE: Text("the watercourse"),
    Reason.WELL: Text("the well"),
}
_WATER_WAYS = (WayKind.WATERCOURSE, WayKind.DITCH)
REMEDY = Text("Set it farther off, or keep feed, hut and shade on the far side of it. Local rules come first.")
GEAR_REMEDY = Text("Set it farther off. Local rules come first.")


class Setback(NamedTuple):
    """One thing that pigs are kept off, and how far."""

    what: Text
    shape: BaseGeometry
    """[grid m]."""
    usual_m: float
    source: Text
    is_kept_out: bool = False
    """Whether it is ground that is kept out of paddocks: that one touches it is told of already."""


def setbacks_of(farm: Farm) -> tuple[Setback, ...]:
    """Return what pigs are usually kept off on a farm; a thing with a distance of its own is told of elsewhere."""
    return (*_keep_outs(farm), *_ways(farm), *_flow_lines(farm))


def _usual(farm: Farm, name: str, otherwise: float) -> float:
    told = farm.setting(SETTINGS[name])
    is_length = isinstance(told, int | float) and not isinstance(told, bool) and 0.0 <= told < 10_000.0
    return float(told) if is_length else otherwise


def _keep_outs(farm: Farm) -> Iterator[Setback]:
    for row in farm.keep_outs.values():
        if row.reason in _WATER_REASONS and not row.net_m:
            shape, usual = _ground_of(farm, row), _usual_off(farm, row)
            yield Setback(_called(row), shape, usual, SETBACKS, is_kept_out=True)


def _usual_off(farm: Farm, row: KeepOut) -> float:
    if row.reason is Reason.WELL:
        return _usual(farm, "well", WELL_M)
    return _usual(farm, "water", WATER_M)


def _called(row: KeepOut) -> Text:
    return called(row.name, row.reason, _WATER_REASONS[row.reason])


def _ground_of(farm: Farm, row: KeepOut) -> BaseGeometry:
    wide = kept_out(row, 0.0, farm.projection.ground_per_grid)
    return row.shape if wide.is_empty else wide


def _ways(farm: Farm) -> Iterator[Setback]:
    usual = _usual(farm, "water", WATER_M)
    for way in farm.ways.values():
        if way.kind in _WATER_WAYS:
            kept = usual if way.clearance_m is None else way.clearance_m
            yield Setback(way_called(way), way.line, kept, SETBACKS, is_kept_out=way.kind is WayKind.WATERCOURSE)


def _flow_lines(farm: Farm) -> Iterator[Setback]:
    usual = _usual(farm, "flow", FLOW_M)
    for each in farm.flow_lines.values():
        yield Setback(called(each.name, "flow line", Text("the flow line")), each.line, usual, SETBACKS_FLOW)


def near_water(farm: Farm, live: LiveGround, setbacks: tuple[Setback, ...]) -> Iterator[Caution]:
    """Yield that some ground comes nearer to water, a well or a flow line than is usual: the nearest of each sort."""
    told: set[tuple[float, Text]] = set()
    off = sorted(((ground_m(farm, each.shape, live.ground), each) for each in setbacks), key=lambda one: one[0])
    for distance, each in off:
        sort = each.usual_m, each.source
        if distance >= each.usual_m or sort in told or (each.is_kept_out and distance <= 0.0):
            continue
        told.add(sort)
        yield Caution("", Level.NOTE, _words(live.called, distance, each), REMEDY, each.source)


def _words(name: Value, distance: float, each: Setback) -> Text:
    values: dict[str, Value] = {"name": name, "what": each.what, "usual": metres(each.usual_m)}
    if each.source is SETBACKS_FLOW:
        pattern = "{name} lies across {what}." if distance <= 0.0 else "{name} comes within {near} of {what}."
        return Text(f"{pattern} That {{usual}} are kept off is assumed.", values | {"near": near(distance)})
    if distance <= 0.0:
        return Text("{name} lies across {what}; {usual} off are usual.", values)
    return Text("{name} comes within {near} of {what}; {usual} are usual.", values | {"near": near(distance)})


def gear_near_water(farm: Farm, kind: GearKind, name: Value, point: shapely.Point) -> Iterator[Caution]:
    """Yield that gear stands nearer to water, a well or a flow line than is usual; a keep-out's own distance leads."""
    kept = [each for each in farm.keep_outs.values() if each.reason in _WATER_REASONS and each.gear_m]
    own = (Setback(_called(row), _ground_of(farm, row), row.gear_m, SETBACKS) for row in kept)
    named = {each.uid for each in kept}
    rows = (row for row in farm.keep_outs.values() if row.reason in _WATER_REASONS and row.uid not in named)
    usual = (Setback(_called(row), _ground_of(farm, row), _usual_off(farm, row), SETBACKS) for row in rows)
    for each in (*own, *usual, *_ways(farm), *_flow_lines(farm)):
        distance = ground_m(farm, each.shape, point)
        if distance < each.usual_m:
            yield Caution("", Level.NOTE, _words(name, distance, each), GEAR_REMEDY, each.source)
