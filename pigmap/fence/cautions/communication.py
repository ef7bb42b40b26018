"""Live fences keep off lines that carry telephone or data (W4)."""

from __future__ import annotations

from collections.abc import Iterator

from pigmap.fence.cautions.caution import Caution, Level, LiveGround
from pigmap.fence.cautions.energizers import ROUNDING_M
from pigmap.fence.cautions.things import ground_m, metres, way_called
from pigmap.fence.tables import COMMUNICATION_APART_M, COMMUNICATION_SOURCE
from pigmap.records import Farm, WayKind
from pigmap.text import Text, Value


def communication_lines(farm: Farm, live: LiveGround) -> Iterator[Caution]:
    """Yield the telephone and data lines that a fence would come too near to, as seen from above."""
    for way in farm.ways.values():
        if way.kind is not WayKind.OVERHEAD_LINE or not way.communication:
            continue
        if ground_m(farm, live.ground, way.line) < COMMUNICATION_APART_M - ROUNDING_M:
            values: dict[str, Value] = {
                "paddock": live.called,
                "line": way_called(way),
                "off": metres(COMMUNICATION_APART_M),
            }
            words = Text("{paddock} comes within {off} of {line}, which carries telephone or data.", values)
            remedy = Text(
                "Keep live wires {off} or more off it, and never above it: pulses can be heard in it. Ask its owner "
                "where a fence has to pass. Local rules come first.",
                values,
            )
            yield Caution("W4", Level.WARN, words, remedy, COMMUNICATION_SOURCE)
