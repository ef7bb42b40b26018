"""Live nets and barbed wire never come together (W6).

No farm file tells which fences are barbed. A fence counts as barbed where its name or its note says so.
"""

from __future__ import annotations

from collections.abc import Iterator

from pigmap.fence.cautions.caution import Caution, Level, LiveGround
from pigmap.fence.cautions.energizers import ROUNDING_M
from pigmap.fence.cautions.things import ground_m, metres, way_called
from pigmap.fence.tables import BARBED_APART_M, BARBED_SOURCE
from pigmap.records import Farm, Way, WayKind
from pigmap.text import Text, Value

_SAID = ("barb", "razor wire")


def is_barbed(way: Way) -> bool:
    """Whether a permanent fence is called barbed, in its name or its note."""
    told = f"{way.name} {way.note}".casefold()
    return way.kind is WayKind.PERMANENT_FENCE and any(each in told for each in _SAID)


def barbed_fences(farm: Farm, live: LiveGround) -> Iterator[Caution]:
    """Yield the barbed fences that a net would stand against."""
    for way in farm.ways.values():
        if is_barbed(way) and ground_m(farm, live.ground, way.line) < BARBED_APART_M - ROUNDING_M:
            values: dict[str, Value] = {"paddock": live.called, "fence": way_called(way), "off": metres(BARBED_APART_M)}
            words = Text("{paddock} stands against {fence}, which has barbed wire as its name or note says.", values)
            remedy = Text(
                "Keep live wires {off} or more off it, on posts of their own. Barbed wire is never made live.", values
            )
            yield Caution("W6", Level.STOP, words, remedy, BARBED_SOURCE, "reason")
