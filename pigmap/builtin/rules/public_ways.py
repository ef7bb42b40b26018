"""The rule that paddocks leave paths and roads free; a fence along one wants signs."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from pigmap.fence.cautions.public import public_ways
from pigmap.planning.cautions import on_each_ground
from pigmap.planning.rule import Breach
from pigmap.records import Farm
from pigmap.text import Text


class PublicWays:
    """Looks for paths and roads through ground that pigs are or will be on, and for fences that want signs."""

    api = 1
    name = "public-ways"
    title = Text("Paths and roads stay free, and fences along them have signs")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        return on_each_ground(farm, public_ways, past=False)


rule = PublicWays()
