"""Fences across a watercourse: live wire in water, and water that takes nets along (W12)."""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from pigmap.fence.cautions.caution import Caution, Level, LiveGround
from pigmap.fence.cautions.things import way_called
from pigmap.fence.tables import WATERCOURSE_SOURCE
from pigmap.records import Farm, WayKind
from pigmap.text import Text

REMEDY = Text(
    "Set it to one side: in water a net loses its power and is a danger to people, and rising water takes it along. "
    "Local rules come first."
)


def watercourses_crossed(farm: Farm, live: LiveGround) -> Iterator[Caution]:
    """Yield the watercourses that ground lies across, or that touch its fence."""
    for way in farm.ways.values():
        if way.kind is WayKind.WATERCOURSE and shapely.intersects(way.line, live.ground):
            words = Text("{paddock} lies across {way}.", {"paddock": live.called, "way": way_called(way)})
            yield Caution("W12", Level.WARN, words, REMEDY, WATERCOURSE_SOURCE, "reason")
