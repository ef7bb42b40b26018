"""Sides along water, edges of woods, rides and hedges, where wildlife passes (W12)."""

from __future__ import annotations

from collections.abc import Iterator

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.fence.cautions.caution import Caution, Level, LiveGround
from pigmap.fence.cautions.things import way_called
from pigmap.fence.tables import WILD_FOR_M, WILD_M, WILD_SOURCE
from pigmap.records import Farm, GroundCover, KeepOut, Reason, WayKind
from pigmap.records.frozen import dataclass
from pigmap.text import Text, Value

_WAYS = (WayKind.WATERCOURSE, WayKind.DITCH, WayKind.RIDE, WayKind.HEDGE)
_WATER = {Reason.POND: Text("the pond"), Reason.WATERCOURSE: Text("the watercourse")}
REMEDY = Text("Look along that side first every day, hang bright tape on it, and take the nets away when pigs leave.")


@dataclass(frozen=True, slots=True, eq=False)
class WildEdge:
    """Where wildlife passes."""

    what: Text
    line: BaseGeometry
    """[grid m]."""
    reach: BaseGeometry
    """All within `WILD_M` of it [grid m]."""
    is_kept_out: bool = False
    """Whether it is ground that is kept out of paddocks: one that touches it is told of already."""


def wild_edges(farm: Farm) -> tuple[WildEdge, ...]:
    """Return where wildlife passes on a farm: water, ditches, rides, hedges, and the edges of woods."""
    reach = WILD_M / farm.projection.ground_per_grid
    kept_out = (
        WildEdge(_water_called(each), each.shape, shapely.buffer(each.shape, reach), is_kept_out=True)
        for each in farm.keep_outs.values()
        if each.reason in _WATER
    )
    return (*(WildEdge(what, line, shapely.buffer(line, reach)) for what, line in _lines(farm)), *kept_out)


def _lines(farm: Farm) -> Iterator[tuple[Text, BaseGeometry]]:
    for way in farm.ways.values():
        if way.kind in _WAYS:
            yield way_called(way), way.line
    for field in farm.fields.values():
        if field.ground_cover is GroundCover.WOODLAND:
            yield Text("the edge of {wood}", {"wood": field.name}), field.outline.boundary


def _water_called(keep_out: KeepOut) -> Text:
    return Text("{name}", {"name": keep_out.name}) if keep_out.name else _WATER[keep_out.reason]


def along_wild_edges(farm: Farm, live: LiveGround, edges: tuple[WildEdge, ...]) -> Caution | None:
    """Return that sides of a fence run where wildlife passes, all of it in one sentence; None where none does."""
    least = WILD_FOR_M / farm.projection.ground_per_grid
    ring = live.ground.exterior
    met = [
        each.what
        for each in edges
        if shapely.dwithin(each.line, live.ground, WILD_M / farm.projection.ground_per_grid)
        and not (each.is_kept_out and shapely.intersects(each.line, live.ground))
        and shapely.intersection(ring, each.reach).length > least
    ]
    if not met:
        return None
    values: dict[str, Value] = {"paddock": live.called, "what": listed(met)}
    words = Text("{paddock} has a side along {what}, where wild animals pass.", values)
    return Caution("W12", Level.NOTE, words, REMEDY, WILD_SOURCE)


def listed(things: list[Text]) -> Text:
    """Return things as a person lists them: 'the brook, the pond and the ride'."""
    *first, last = things
    if not first:
        return last
    before = first[0]
    for each in first[1:]:
        before = Text("{before}, {next}", {"before": before, "next": each})
    return Text("{before} and {last}", {"before": before, "last": last})
