"""Fences under and beside overhead lines (W3)."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.fence.cautions.caution import Caution, Level, LiveGround
from pigmap.fence.cautions.energizers import ROUNDING_M
from pigmap.fence.cautions.things import ground_m, metres, near, way_called
from pigmap.fence.tables import (
    BESIDE_LINE_DEG,
    BESIDE_LINE_FOR_M,
    BESIDE_LINE_M,
    LEAST_CROSSING_DEG,
    OVERHEAD_SOURCE,
    overhead_clearance_m,
)
from pigmap.geometry.sides import Edges, edges_of
from pigmap.records import Farm, Way, WayKind
from pigmap.records.net import USUAL_HEIGHT_MM
from pigmap.text import Text, Value

ASK = Text(
    "Ask the owner of the line which distance holds there, and keep the larger until you know. Local rules come first."
)


def slant_m(conductor_m: float | None, net_m: float, beside_m: float) -> float:
    """Return how far the top of a net is from a line [m].

    Parameters
    ----------
    conductor_m
        How high the lowest wire of the line hangs [m]; where that is not known only the distance beside it counts.
    net_m
        Height of the net [m].
    beside_m
        Distance from the line as seen from above [m].

    Examples
    --------
    >>> round(slant_m(5.2, 0.9, 0.0), 3), slant_m(None, 0.9, 3.0)
    (4.3, 3.0)
    """
    return math.hypot(beside_m, max(conductor_m - net_m, 0.0) if conductor_m is not None else 0.0)


def is_clear(conductor_m: float | None, net_m: float, beside_m: float, voltage_kv: float | None) -> bool:
    """Whether a net keeps the printed distance from a line; never under one whose height is not known.

    Examples
    --------
    >>> is_clear(5.2, 0.9, 0.0, 11.0), is_clear(7.3, 0.9, 0.0, 400.0), is_clear(None, 0.9, 0.0, 11.0)
    (True, False, False)
    """
    return slant_m(conductor_m, net_m, beside_m) >= overhead_clearance_m(voltage_kv) - ROUNDING_M


def power_lines(farm: Farm) -> Iterator[Way]:
    """Yield the overhead lines of a farm that carry power, or may do so."""
    for way in farm.ways.values():
        if way.kind is WayKind.OVERHEAD_LINE and not way.communication:
            yield way


def tallest_net_m(farm: Farm) -> float:
    """Return the height of the tallest nets of a farm [m]; the usual one where it has none."""
    return max((kind.height_mm for kind in farm.net_kinds.values()), default=USUAL_HEIGHT_MM) / 1000


def kept_beside_m(farm: Farm, way: Way, least_m: float) -> float:
    """Return how far beside a line, as seen from above, nets keep for a distance from its wires [m].

    Where nobody told how high the lowest wire hangs, the whole distance counts beside it; where the wire hangs higher
    over the nets than the distance it is nothing.
    """
    if way.height_m is None:
        return least_m
    over_m = max(way.height_m - tallest_net_m(farm), 0.0)
    return math.sqrt(max(least_m**2 - over_m**2, 0.0))


def overhead_lines(farm: Farm, live: LiveGround) -> Iterator[Caution]:
    """Yield what is against a fence where overhead lines are.

    The distance that was told for a line counts, else the printed one for its voltage, or for the highest where that
    is not known. Under a line of which nobody told how high it hangs nothing may stand.
    """
    for way in power_lines(farm):
        yield from _of_line(farm, live, way)


def _of_line(farm: Farm, live: LiveGround, way: Way) -> Iterator[Caution]:
    off = ground_m(farm, live.ground, way.line)
    least, kept = overhead_clearance_m(way.voltage_kv), _kept(way)
    beside = kept_beside_m(farm, way, kept)
    if off <= 0.0 and beside > 0.0:
        yield _under(farm, live, way, kept)
    elif off < beside - ROUNDING_M:
        yield _too_near(live, way, off, kept) if way.height_m is None else _under(farm, live, way, kept)
    else:
        if off < kept_beside_m(farm, way, least) - ROUNDING_M:
            yield _below_print(live, way, least)
        yield from _along(farm, live, way, off)
        yield from _crossing(live, way)


def along_lines(farm: Farm, live: LiveGround) -> Iterator[Caution]:
    """Yield the lines along which a side runs, where nothing stands under or too near to them."""
    near_m = BESIDE_LINE_M / farm.projection.ground_per_grid
    for way in power_lines(farm):
        if shapely.dwithin(way.line, live.ground, near_m):
            off = ground_m(farm, live.ground, way.line)
            if off >= kept_beside_m(farm, way, overhead_clearance_m(way.voltage_kv)) - ROUNDING_M:
                yield from _along(farm, live, way, off)
                yield from _crossing(live, way)


def _crossing(live: LiveGround, way: Way) -> Iterator[Caution]:
    """Yield that a side passes under a line aslant, where one may pass at all."""
    sides, pieces = edges_of([live.ground]), edges_of([way.line])
    turned = np.abs(_turns(sides)[:, None] - _turns(pieces)[None, :]) % 180.0
    lines, wires = (np.asarray(shapely.linestrings(each)) for each in (sides, pieces))
    meets = np.asarray(shapely.intersects(lines[:, None], wires[None, :]))
    if not bool((meets & (np.minimum(turned, 180.0 - turned) < LEAST_CROSSING_DEG)).any()):
        return
    values: dict[str, Value] = {"paddock": live.called, "line": way_called(way), "least": f"{LEAST_CROSSING_DEG:g}"}
    words = Text("{paddock} has a side that passes under {line} aslant.", values)
    remedy = Text("Turn it to cross near a right angle ({least}° or more). Local rules come first.", values)
    yield Caution("W3", Level.WARN, words, remedy, OVERHEAD_SOURCE)


def _under(farm: Farm, live: LiveGround, way: Way, kept: float) -> Caution:
    values: dict[str, Value] = {"paddock": live.called, "line": way_called(way), "off": metres(kept)}
    if way.height_m is not None:
        return _too_low(farm, live, way, values)
    words = Text("{paddock} lies under {line}, and nothing tells how high that hangs.", values)
    remedy = Text(
        "Set it {off} or more to one side. Where the owner of the line lets a fence pass under it, cross near a right "
        "angle ({least}° or more). Local rules come first.",
        {**values, "least": f"{LEAST_CROSSING_DEG:g}"},
    )
    return Caution("W3", Level.STOP, words, remedy, OVERHEAD_SOURCE, "never")


def _too_low(farm: Farm, live: LiveGround, way: Way, values: dict[str, Value]) -> Caution:
    height = way.height_m or 0.0
    beside = math.ceil(kept_beside_m(farm, way, _kept(way)) * 10 - 1e-9) / 10
    more = {"height": metres(height), "net": metres(tallest_net_m(farm)), "beside": metres(beside)}
    words = Text(
        "{paddock} lies under or beside {line}, whose lowest wire hangs {height} high: from a net of {net} that is "
        "less than the {off} to keep.",
        values | more,
    )
    remedy = Text(
        "Set it {beside} or more to one side, as seen from above. Wires hang lower in hot weather and under load: the "
        "owner of the line can tell you how low. Local rules come first.",
        values | more,
    )
    return Caution("W3", Level.STOP, words, remedy, OVERHEAD_SOURCE, "never")


def _kept(way: Way) -> float:
    return overhead_clearance_m(way.voltage_kv) if way.clearance_m is None else way.clearance_m


def _too_near(live: LiveGround, way: Way, off: float, kept: float) -> Caution:
    values: dict[str, Value] = {
        "paddock": live.called,
        "line": way_called(way),
        "near": near(off),
        "off": metres(kept),
        "volts": f"{way.voltage_kv or 0.0:g}",
    }
    if way.clearance_m is not None:
        words = "{paddock} is {near} from {line}; {off} was told for that line."
    elif way.voltage_kv is not None:
        words = "{paddock} is {near} from {line}; the least in print for {volts} kV is {off}."
    else:
        words = "{paddock} is {near} from {line}; the least in print where the voltage is not known is {off}."
    remedy = Text("Set it clear of the line. Its owner can tell you the distance; local rules come first.")
    return Caution("W3", Level.STOP, Text(words, values), remedy, OVERHEAD_SOURCE, "never")


def _below_print(live: LiveGround, way: Way, least: float) -> Caution:
    values: dict[str, Value] = {
        "paddock": live.called,
        "line": way_called(way),
        "entered": metres(way.clearance_m or 0.0),
        "least": metres(least),
    }
    known = "{paddock} keeps the {entered} that was told for {line}; the least in print for its voltage is {least}."
    unknown = (
        "{paddock} keeps the {entered} that was told for {line}; the least in print where the voltage is not known is "
        "{least}."
    )
    words = Text(known if way.voltage_kv is not None else unknown, values)
    return Caution("W3", Level.WARN, words, ASK, OVERHEAD_SOURCE)


def _along(farm: Farm, live: LiveGround, way: Way, off: float) -> Iterator[Caution]:
    """Yield that a side runs along a line, unless its owner told which distance to keep, which then counts."""
    if way.clearance_m is not None or off >= BESIDE_LINE_M:
        return
    if along_m(farm, live.ground, way.line) <= BESIDE_LINE_FOR_M:
        return
    values: dict[str, Value] = {"paddock": live.called, "line": way_called(way), "near": near(off)}
    words = Text("{paddock} has a side along {line}, {near} off.", values)
    remedy = Text(
        "Turn it across, or stay more than {off} off: a long wire beside a power line can become live from it.",
        {"off": metres(BESIDE_LINE_M)},
    )
    yield Caution("W3", Level.WARN, words, remedy, OVERHEAD_SOURCE)


def along_m(farm: Farm, ground: shapely.Polygon, line: shapely.LineString) -> float:
    """Return for how much of its way round some ground runs along a line, near it and with its direction [m]."""
    scale = farm.projection.ground_per_grid
    sides = edges_of([ground])
    pieces = edges_of([line])
    strips = np.asarray(
        shapely.buffer(np.asarray(shapely.linestrings(pieces)), BESIDE_LINE_M / scale, cap_style="flat")
    )
    turned = np.abs(_turns(sides)[:, None] - _turns(pieces)[None, :]) % 180.0
    beside = np.minimum(turned, 180.0 - turned) < BESIDE_LINE_DEG
    lines = shapely.linestrings(sides)
    covered = [shapely.union_all(strips[each]) for each in beside]
    return float(shapely.length(shapely.intersection(lines, covered)).sum()) * scale


def _turns(edges: Edges) -> NDArray[np.float64]:
    ways = edges[:, 1] - edges[:, 0]
    turns: NDArray[np.float64] = np.degrees(np.arctan2(ways[:, 1], ways[:, 0]))
    return turns
