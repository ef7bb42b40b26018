"""The ground of a field as it is coloured: its state, and what some ways to colour it ask for besides."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Any, NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray

from pigmap.geometry.frame import CellFrame
from pigmap.ground import GroundState
from pigmap.records import AS_PLANNED
from pigmap.session.ground_keeper import GroundKeeper
from pigmap.session.opened import Opened

if TYPE_CHECKING:
    from pigmap.session.slopes import SlopeKeeper
    from pigmap.session.soil_waters import SoilWaters

Array = NDArray[Any]

WATER, SLOPE = "lacks_mm", "slope_deg"
"""What can be asked for: water that the soil lacks to be full, the same for a whole field, and slope, cell by cell."""


class Session(Opened, Protocol):
    """What this needs of a session."""

    @property
    def ground(self) -> GroundKeeper:
        """The state of the ground of every field."""
        ...


class SeenCells(NamedTuple):
    """The cells of a field, each a piece of ground of its own."""

    frame: CellFrame
    region_of: NDArray[np.intp]


class SeenState(NamedTuple):
    """The ground of one field on a day, with an array that was asked for."""

    ground: Any
    """Its cells (``frame`` and ``region_of``)."""
    layers: Mapping[str, Array]


class SeenGround:
    """Adds to the state of the ground what is asked for."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._cells: dict[str, tuple[GroundState, SeenState]] = {}

    @cached_property
    def waters(self) -> SoilWaters:
        """How wet the soil of each field is; loaded when it is first asked for, as the slopes are."""
        from pigmap.session.soil_waters import SoilWaters

        return SoilWaters()

    @cached_property
    def slopes(self) -> SlopeKeeper:
        """How steep the ground of each field is."""
        from pigmap.session.slopes import SlopeKeeper

        return SlopeKeeper(self._session)

    def state(
        self, field_uid: str, day: date, today: date = AS_PLANNED, asks: str = ""
    ) -> GroundState | SeenState | None:
        """Return the ground of a field at the start of a day; None while it is computed, and for a field unknown.

        Parameters
        ----------
        field_uid, day, today
            As `GroundKeeper.state` has them.
        asks
            `WATER`, `SLOPE` or nothing. ``unknown`` is then where that is not known.
        """
        state = self._session.ground.state(field_uid, day, today)
        if state is None or asks not in (WATER, SLOPE):
            return state
        return self._with_water(field_uid, state) if asks == WATER else self._with_slope(field_uid, state)

    def settle(self) -> None:
        """Wait until all that was asked for is there."""
        if "slopes" in vars(self):
            self.slopes.settle()

    def close(self) -> None:
        """Stop, and wait for what is being read."""
        if "slopes" in vars(self):
            self.slopes.close()

    def _with_water(self, field_uid: str, state: GroundState) -> SeenState:
        farm = self._session.farm
        field = farm.fields.get(field_uid)
        lacks = self.waters.lacks_mm(farm, field, state.day) if field is not None else np.nan
        regions = state.ground.regions
        more = {WATER: np.full(regions, lacks), "unknown": np.full(regions, np.isnan(lacks))}
        return SeenState(state.ground, _Layers(more, state.layers, lambda layer: layer))

    def _with_slope(self, field_uid: str, state: GroundState) -> SeenState | None:
        slopes = self.slopes.of(field_uid, state.ground.frame)
        if slopes is None:
            return None
        kept = self._cells.get(field_uid)
        if kept is not None and kept[0] is state and kept[1].layers[SLOPE].base is slopes:
            return kept[1]
        region_of = state.ground.region_of
        cells = np.where(region_of < 0, -1, np.arange(region_of.size).reshape(region_of.shape))
        flat = slopes.reshape(-1)
        more = {SLOPE: flat, "unknown": np.isnan(flat)}
        of_cell = region_of.reshape(-1)
        seen = SeenState(SeenCells(state.ground.frame, cells), _Layers(more, state.layers, lambda each: each[of_cell]))
        self._cells[field_uid] = state, seen
        return seen


class _Layers(Mapping[str, Array]):
    """Arrays by name: some of its own, and those of a state, brought to the same pieces when they are asked for."""

    def __init__(self, own: dict[str, Array], others: Mapping[str, Array], bring: Callable[[Array], Array]) -> None:
        self._made, self._others, self._bring = own, others, bring

    def __getitem__(self, name: str) -> Array:
        if name not in self._made:
            self._made[name] = self._bring(self._others[name])
        return self._made[name]

    def __iter__(self) -> Iterator[str]:
        yield from dict.fromkeys((*self._made, *self._others))

    def __len__(self) -> int:
        return len(dict.fromkeys((*self._made, *self._others)))
