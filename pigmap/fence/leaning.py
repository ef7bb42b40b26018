"""How nets stand to a permanent fence: they lean on a dead one, are joined to a live one, or keep off it."""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum, auto

import shapely

from pigmap.fence.cautions.barbed import is_barbed
from pigmap.fence.cautions.energizers import fed_otherwise, fed_unknown
from pigmap.fence.electric.feeding import feeds
from pigmap.geometry.sides import FLUSH_M
from pigmap.records import Energizer, Farm, Way, WayKind


class Leaning(Enum):
    """What a permanent fence is to nets that some energizer feeds."""

    DEAD = auto()
    """Not electric: nets may lean on it, their ends off its wire; the ring is open there."""
    JOINED = auto()
    """Live from the same energizer: nets may be joined to it."""
    OTHER = auto()
    """Live from another energizer: nothing is joined to it."""
    UNKNOWN = auto()
    """Live, and nothing tells from what: nothing is joined to it either."""
    BARBED = auto()
    """Barbed wire: live wires keep off it."""

    @property
    def closes(self) -> bool:
        """Whether it may take the place of nets."""
        return self in (Leaning.DEAD, Leaning.JOINED)


def leaning_on(farm: Farm, way: Way, energizer: Energizer | None) -> Leaning:
    """Return what a permanent fence is to nets that an energizer feeds, None where nothing tells which does."""
    if fed_unknown(way):
        return Leaning.UNKNOWN
    if fed_otherwise(farm, way, energizer):
        return Leaning.OTHER
    if is_barbed(way):
        return Leaning.BARBED
    return Leaning.JOINED if way.electric else Leaning.DEAD


def fences_to_lean_on(farm: Farm, energizer: Energizer | None) -> tuple[Way, ...]:
    """Return the permanent fences that may take the place of nets which an energizer feeds."""
    fences = (way for way in farm.ways.values() if way.kind is WayKind.PERMANENT_FENCE)
    return tuple(way for way in fences if leaning_on(farm, way, energizer).closes)


def lines_beside(farm: Farm, ground: shapely.Polygon, paddock_uid: str, group_uid: str) -> Sequence[shapely.LineString]:
    """Return the lines of fences near some ground that may take the place of nets round it."""
    near = [
        way
        for way in farm.ways.values()
        if way.kind is WayKind.PERMANENT_FENCE and shapely.dwithin(way.line, ground, FLUSH_M)
    ]
    if not near:
        return ()
    energizer = feeds(farm, paddock_uid, group_uid)
    return tuple(way.line for way in near if leaning_on(farm, way, energizer).closes)
