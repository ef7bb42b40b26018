"""Ground that pigs are usually kept off, and when the map shows it."""

from __future__ import annotations

from shapely.geometry.base import BaseGeometry

from pigmap.qt.stage import Stage
from pigmap.records import Farm

_VERBS, _TINTS = ("place", "draw", "here"), ("wet", "slope")


class KeptOff:
    """Shows it while paddocks or gear are placed, and with what is wet or steep."""

    def __init__(self, stage: Stage) -> None:
        self._stage = stage
        self._kept: tuple[Farm, list[BaseGeometry]] | None = None
        self._shown = False

    def shapes(self) -> list[BaseGeometry]:
        """Return what is to be shown now."""
        self._shown = self._wanted
        return self._of_farm() if self._shown else []

    def differs(self) -> bool:
        """Whether something else is to be shown than `shapes` returned last."""
        return self._wanted is not self._shown and bool(self._of_farm())

    @property
    def _wanted(self) -> bool:
        return self._stage.verb in _VERBS or self._stage.tint in _TINTS

    def _of_farm(self) -> list[BaseGeometry]:
        farm = self._stage.session.farm
        if self._kept is None or self._kept[0] is not farm:
            from pigmap.fence.cautions.setbacks import setbacks_of  # on use: none is in the first frame

            grid = farm.projection.ground_per_grid
            self._kept = farm, [each.shape.buffer(each.usual_m / grid) for each in setbacks_of(farm)]
        return self._kept[1]
