"""The rule that tells of fences over steep ground, as far as terrain images tell; worth knowing, and no more."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from pigmap.fence.cautions.caution import Caution, LiveGround
from pigmap.fence.cautions.steep import steep_fence
from pigmap.geometry.steep import SlopeCells
from pigmap.planning.cautions import on_each_ground
from pigmap.planning.rule import Breach
from pigmap.records import Farm
from pigmap.text import Text


class SteepFences:
    """Looks at the ground under the fences that stand or are planned."""

    api = 1
    name = "steep-fences"
    title = Text("Fences over steep ground are told")

    def breaches(self, farm: Farm, today: date) -> Iterable[Breach]:
        """Yield nothing: the records alone do not tell how steep ground is."""
        return ()

    def breaches_on_slopes(self, farm: Farm, today: date, slopes: Mapping[str, SlopeCells]) -> Iterable[Breach]:
        """Yield them, earliest first.

        Parameters
        ----------
        farm, today
            As for any rule.
        slopes
            How steep the cells of each field are, by the field's uid, as far as it is known.
        """

        def look(farm: Farm, live: LiveGround) -> Iterator[Caution]:
            near = (uid for uid, field in farm.fields.items() if field.outline.intersects(live.ground))
            found = steep_fence(live, (cells for uid in near if (cells := slopes.get(uid)) is not None))
            if found is not None:
                yield found

        return on_each_ground(farm, look, past=False)


rule = SteepFences()
