"""Ground and lines that a paddock must not touch, each with its words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from enum import Enum, auto

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.fence.cautions.distances import distances_of
from pigmap.fence.cautions.overhead import kept_beside_m
from pigmap.fence.cautions.things import called, way_called
from pigmap.fence.electric.fed_by import feeds
from pigmap.fence.leaning import Leaning, leaning_on
from pigmap.fence.standing import StandingPaddock
from pigmap.fence.tables import BARBED_APART_M, overhead_clearance_m
from pigmap.geometry.kept_out import in_force_during, kept_out, round_trees
from pigmap.geometry.sides import FLUSH_M
from pigmap.records import (
    AS_PLANNED,
    Energizer,
    Farm,
    Lasting,
    Reason,
    StayState,
    Way,
    WayKind,
    lasting_on,
)
from pigmap.records.frozen import dataclass
from pigmap.text import Text

TOUCH_M = 0.01
"""A side that lies exactly on the edge of a distance keeps it; so much is rounding [grid m]."""


class ObstacleKind(Enum):
    """Why ground cannot be used as it is."""

    KEEP_OUT = auto()
    OVERHEAD = auto()
    OVERHEAD_IN_PRINT = auto()
    OTHER_ENERGIZER = auto()
    FENCE_OF_ANOTHER = auto()
    FENCE_OF_UNKNOWN = auto()
    BARBED = auto()
    CROSSED_WAY = auto()
    STANDING = auto()
    STAY = auto()


@dataclass(frozen=True, slots=True, eq=False)
class Obstacle:
    """One thing that must not be touched."""

    kind: ObstacleKind
    what: Text
    """What it is called: 'the pond'."""
    shape: BaseGeometry
    """What must not be touched, its distance included [grid m]."""
    bare: BaseGeometry
    """The thing itself [grid m]."""
    distance_m: float = 0.0
    """Distance that sides keep from it [m of ground]."""
    hard: bool = False
    care: bool = False
    """Whether it only wants care."""
    entered_m: float | None = None
    """Distance that was typed for it where print gives a larger one [m of ground]."""
    voltage_known: bool = True
    height_known: bool = True
    """Whether it is told how high an overhead line hangs."""
    into: date | None = None
    out: date | None = None
    reason: Reason | None = None
    """Why a keep-out is kept out of."""


def obstacles(
    farm: Farm,
    day: date,
    out_on: date,
    standing: tuple[StandingPaddock, ...],
    moving_uid: str | None,
    today: date = AS_PLANNED,
) -> Iterator[Obstacle]:
    """Yield all that stands in the way of a paddock from a day to another."""
    energizer = feeds(farm, "", moving_uid or "")
    yield from _keep_outs(farm, day, out_on)
    yield from _ways(farm, energizer)
    for paddock in standing:
        ground = paddock.ground.buffer(-FLUSH_M)
        name = Text("{name}", {"name": paddock.name})
        yield Obstacle(ObstacleKind.STANDING, name, ground, paddock.ground)
        if paddock.group_uid != moving_uid:
            yield from _fed(farm, energizer, feeds(farm, paddock.paddock_uid, paddock.group_uid), name, paddock.ground)
    there = {paddock.paddock_uid for paddock in standing}
    for each in lasting_on(farm, today).values():
        stay = each.stay
        if stay.paddock_uid not in there and _meets(each, day, out_on, moving_uid):
            group = farm.groups.get(stay.group_uid)
            name = Text("{name}", {"name": group.name}) if group is not None else Text("another group")
            ground = stay.ground.buffer(-FLUSH_M)
            yield Obstacle(ObstacleKind.STAY, name, ground, stay.ground, into=each.first, out=each.end)
            by = feeds(farm, stay.paddock_uid, stay.group_uid) if stay.group_uid != moving_uid else None
            yield from _fed(farm, energizer, by, _paddock_called(farm, stay.paddock_uid), stay.ground)


def _paddock_called(farm: Farm, uid: str) -> Text:
    paddock = farm.paddocks.get(uid)
    return Text("{name}", {"name": paddock.name}) if paddock is not None else Text("that paddock")


def _fed(
    farm: Farm, energizer: Energizer | None, other: Energizer | None, what: Text, ground: shapely.Polygon
) -> Iterator[Obstacle]:
    """Yield ground whose fence another energizer feeds, with the distance; none where nothing tells what feeds one."""
    if energizer is not None and other is not None and energizer.uid != other.uid:
        yield _strip(farm, ground, ObstacleKind.OTHER_ENERGIZER, what, distances_of(farm).energizers_apart_m)


def _meets(each: Lasting, day: date, out_on: date, moving_uid: str | None) -> bool:
    """Whether a stay takes its ground on some of the days; what a moving group leaves does not."""
    left = each.stay.group_uid == moving_uid and each.first < day
    return each.stay.state is not StayState.PAST and not left and each.meets(day, out_on)


_REASONS = {
    Reason.POND: Text("the pond"),
    Reason.WATERCOURSE: Text("the watercourse"),
    Reason.WELL: Text("the well"),
    Reason.WET: Text("the wet corner"),
    Reason.STEEP: Text("the steep ground"),
    Reason.ROOTS: Text("the roots of trees"),
    Reason.PATH: Text("the path"),
    Reason.OVERHEAD_LINE: Text("the overhead line"),
    Reason.FLOOD: Text("the ground that floods"),
    Reason.WILDLIFE: Text("the ground left to wildlife"),
    Reason.OTHER: Text("the keep-out"),
}


def _keep_outs(farm: Farm, day: date, out_on: date) -> Iterator[Obstacle]:
    ground_per_grid = farm.projection.ground_per_grid
    for row in (*farm.keep_outs.values(), *round_trees(farm.places.values())):
        wide = kept_out(row, row.net_m, ground_per_grid)
        if in_force_during(row, day, out_on) and not wide.is_empty:
            bare = kept_out(row, 0.0, ground_per_grid)
            yield Obstacle(
                ObstacleKind.OVERHEAD if row.reason is Reason.OVERHEAD_LINE else ObstacleKind.KEEP_OUT,
                called(row.name, row.reason, _REASONS[row.reason]),
                shapely.buffer(wide, -TOUCH_M),
                row.shape if bare.is_empty else bare,
                row.net_m,
                hard=row.reason is Reason.OVERHEAD_LINE,
                reason=row.reason,
            )


_CROSSED = (WayKind.PATH, WayKind.ROAD, WayKind.WATERCOURSE)


def _ways(farm: Farm, energizer: Energizer | None) -> Iterator[Obstacle]:
    for way in farm.ways.values():
        what = way_called(way)
        if way.kind is WayKind.OVERHEAD_LINE:
            if not way.communication:
                yield from _overhead(farm, way, what)
        elif way.kind is WayKind.PERMANENT_FENCE:
            yield from _fence(farm, way, what, leaning_on(farm, way, energizer))
        elif way.kind in _CROSSED:
            yield Obstacle(ObstacleKind.CROSSED_WAY, what, way.line, way.line)


def _fence(farm: Farm, way: Way, what: Text, leaning: Leaning) -> Iterator[Obstacle]:
    """Yield a permanent fence that nets keep off, with the distance; none where they may lean on it."""
    if leaning is Leaning.BARBED:
        yield replace(_strip(farm, way.line, ObstacleKind.BARBED, what, BARBED_APART_M), hard=False)
    elif not leaning.closes:
        kind = ObstacleKind.FENCE_OF_ANOTHER if leaning is Leaning.OTHER else ObstacleKind.FENCE_OF_UNKNOWN
        yield _strip(farm, way.line, kind, what, distances_of(farm).energizers_apart_m)


def _overhead(farm: Farm, way: Way, what: Text) -> Iterator[Obstacle]:
    """Yield an overhead line with its distance, and once more with that of print where a smaller one was typed.

    What was typed counts, since the owner of the line may have told it; the other only wants care.
    """
    least, typed = overhead_clearance_m(way.voltage_kv), way.clearance_m
    kept = kept_beside_m(farm, way, least if typed is None else typed)
    if kept or way.height_m is None:
        wires = _strip(farm, way.line, ObstacleKind.OVERHEAD, what, kept)
        yield replace(wires, height_known=way.height_m is not None)
    if typed is not None and typed < least:
        printed = _strip(farm, way.line, ObstacleKind.OVERHEAD_IN_PRINT, what, kept_beside_m(farm, way, least))
        known = way.voltage_kv is not None
        yield replace(printed, hard=False, care=True, entered_m=typed, voltage_known=known)


def _strip(farm: Farm, bare: BaseGeometry, kind: ObstacleKind, what: Text, distance_m: float) -> Obstacle:
    wide = max(distance_m / farm.projection.ground_per_grid - TOUCH_M, 0.0)
    shape = shapely.buffer(bare, wide, quad_segs=16) if wide else bare
    return Obstacle(kind, what, shape, bare, distance_m, hard=True)
