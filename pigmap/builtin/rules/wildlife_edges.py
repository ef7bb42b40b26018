"""The rule that tells of sides where wildlife passes; worth knowing, and no more."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from pigmap.fence.cautions.wildlife import along_wild_edges, wild_edges
from pigmap.planning.cautions import on_each_ground
from pigmap.planning.rule import Breach
from pigmap.records import Farm
from pigmap.text import Text


class WildlifeEdges:
    """Looks for sides along water, edges of woods, rides and hedges, of paddocks that stand or are planned."""

    api = 1
    name = "wildlife-edges"
    title = Text("Sides along water, woods and rides are watched for wildlife")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        edges = wild_edges(farm)
        return on_each_ground(
            farm, lambda on, live: [each] if (each := along_wild_edges(on, live, edges)) else [], past=False
        )


rule = WildlifeEdges()
