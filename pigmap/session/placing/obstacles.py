"""Ground and lines that a paddock must not touch, each with its words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from enum import Enum, auto

import shapely
from shapely.geometry.base import BaseGeometry

from pigmap.fence.standing import StandingPaddock
from pigmap.fence.tables import ENERGIZERS_APART_M, overhead_clearance_m
from pigmap.geometry.kept_out import in_force_during, kept_out
from pigmap.geometry.sides import FLUSH_M
from pigmap.records import (
    AS_PLANNED,
    Farm,
    Lasting,
    PlaceKind,
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
    yield from _keep_outs(farm, day, out_on)
    yield from _ways(farm)
    for paddock in standing:
        ground = paddock.ground.buffer(-FLUSH_M)
        yield Obstacle(ObstacleKind.STANDING, Text("{name}", {"name": paddock.name}), ground, paddock.ground)
    there = {paddock.paddock_uid for paddock in standing}
    for each in lasting_on(farm, today).values():
        stay = each.stay
        if stay.paddock_uid not in there and _meets(each, day, out_on, moving_uid):
            group = farm.groups.get(stay.group_uid)
            name = Text("{name}", {"name": group.name}) if group is not None else Text("another group")
            ground = stay.ground.buffer(-FLUSH_M)
            yield Obstacle(ObstacleKind.STAY, name, ground, stay.ground, into=each.first, out=each.end)


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
    for row in farm.keep_outs.values():
        wide = kept_out(row, row.net_m, ground_per_grid)
        if in_force_during(row, day, out_on) and not wide.is_empty:
            bare = kept_out(row, 0.0, ground_per_grid)
            yield Obstacle(
                ObstacleKind.OVERHEAD if row.reason is Reason.OVERHEAD_LINE else ObstacleKind.KEEP_OUT,
                _called(row.name, row.reason, _REASONS[row.reason]),
                shapely.buffer(wide, -TOUCH_M),
                row.shape if bare.is_empty else bare,
                row.net_m,
                hard=row.reason is Reason.OVERHEAD_LINE,
                reason=row.reason,
            )


_WAYS = {
    WayKind.PATH: Text("the path"),
    WayKind.ROAD: Text("the road"),
    WayKind.WATERCOURSE: Text("the watercourse"),
    WayKind.OVERHEAD_LINE: Text("the overhead line"),
    WayKind.PERMANENT_FENCE: Text("the permanent fence"),
}

_CROSSED = (WayKind.PATH, WayKind.ROAD, WayKind.WATERCOURSE)


def _ways(farm: Farm) -> Iterator[Obstacle]:
    for way in farm.ways.values():
        what = _called(way.name, way.kind, _WAYS.get(way.kind, Text(str(way.kind))))
        if way.kind is WayKind.OVERHEAD_LINE:
            yield from _overhead(farm, way, what)
        elif way.kind is WayKind.PERMANENT_FENCE and _fed_from_elsewhere(farm, way):
            yield _strip(farm, way, ObstacleKind.OTHER_ENERGIZER, what, ENERGIZERS_APART_M)
        elif way.kind in _CROSSED:
            yield Obstacle(ObstacleKind.CROSSED_WAY, what, way.line, way.line)


def _overhead(farm: Farm, way: Way, what: Text) -> Iterator[Obstacle]:
    """Yield an overhead line with its distance, and once more with that of print where a smaller one was typed.

    What was typed counts, since the owner of the line may have told it; the other only wants care.
    """
    least, typed = overhead_clearance_m(way.voltage_kv), way.clearance_m
    yield _strip(farm, way, ObstacleKind.OVERHEAD, what, least if typed is None else typed)
    if typed is not None and typed < least:
        printed = _strip(farm, way, ObstacleKind.OVERHEAD_IN_PRINT, what, least)
        known = way.voltage_kv is not None
        yield replace(printed, hard=False, care=True, entered_m=typed, voltage_known=known)


def _called(name: str, kind: str, words: Text) -> Text:
    """Return the name of a thing; one that is only called what it is goes with its article: the pond."""
    return words if name.casefold() in ("", kind.casefold()) else Text("{name}", {"name": name})


def _strip(farm: Farm, way: Way, kind: ObstacleKind, what: Text, distance_m: float) -> Obstacle:
    wide = max(distance_m / farm.projection.ground_per_grid - TOUCH_M, 0.0)
    shape = shapely.buffer(way.line, wide, quad_segs=16) if wide else way.line
    return Obstacle(kind, what, shape, way.line, distance_m, hard=True)


def _fed_from_elsewhere(farm: Farm, way: Way) -> bool:
    """Whether a live fence has its energizer and the farm has another, which may feed the nets."""
    others = (place.uid for place in farm.places.values() if place.kind is PlaceKind.ENERGIZER)
    return way.electric and way.energizer_uid is not None and any(uid != way.energizer_uid for uid in others)
