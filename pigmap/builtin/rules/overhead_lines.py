"""The rule that paddocks stay clear of overhead lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from pigmap.fence.cautions.caution import Caution, LiveGround
from pigmap.fence.cautions.communication import communication_lines
from pigmap.fence.cautions.overhead import overhead_lines
from pigmap.planning.cautions import on_each_ground
from pigmap.planning.rule import Breach
from pigmap.records import Farm
from pigmap.text import Text


class OverheadLines:
    """Looks for ground under or beside a line, nearer than was told for it or is in print.

    Near a power line no reason helps; near one that carries telephone or data it is care.
    """

    api = 1
    name = "overhead-lines"
    title = Text("Paddocks stay clear of overhead lines")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        return on_each_ground(farm, _lines)


def _lines(farm: Farm, live: LiveGround) -> Iterator[Caution]:
    yield from overhead_lines(farm, live)
    yield from communication_lines(farm, live)


rule = OverheadLines()
