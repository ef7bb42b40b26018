"""The rule that no fence goes across a watercourse."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from pigmap.fence.cautions.watercourses import watercourses_crossed
from pigmap.planning.cautions import on_each_ground
from pigmap.planning.rule import Breach
from pigmap.records import Farm, WayKind
from pigmap.text import Text


class Watercourses:
    """Looks at the ground of every stay."""

    api = 1
    name = "watercourses"
    title = Text("Fences keep out of watercourses")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        if not any(way.kind is WayKind.WATERCOURSE for way in farm.ways.values()):
            return ()
        return on_each_ground(farm, watercourses_crossed)


rule = Watercourses()
