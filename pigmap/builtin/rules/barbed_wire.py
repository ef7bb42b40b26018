"""The rule that live nets stay off barbed wire."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from pigmap.fence.cautions.barbed import barbed_fences
from pigmap.planning.cautions import on_each_ground
from pigmap.planning.rule import Breach
from pigmap.records import Farm
from pigmap.text import Text


class BarbedWire:
    """Looks for paddocks against a permanent fence that is called barbed."""

    api = 1
    name = "barbed-wire"
    title = Text("Live nets stay off barbed wire")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield them, earliest first."""
        return on_each_ground(farm, barbed_fences)


rule = BarbedWire()
