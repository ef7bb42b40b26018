"""The rule that paddocks stay clear of overhead lines."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from pigmap.fence.cautions.overhead import overhead_lines
from pigmap.planning.cautions import on_each_ground
from pigmap.planning.rule import Breach
from pigmap.records import Farm
from pigmap.text import Text


class OverheadLines:
    """Looks for ground under or beside a line, nearer than was told for it or is in print. No reason helps."""

    api = 1
    name = "overhead-lines"
    title = Text("Paddocks stay clear of overhead lines")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        return on_each_ground(farm, overhead_lines)


rule = OverheadLines()
