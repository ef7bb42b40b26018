"""What is kept from one preparation of ground to the next, so that only what changed is made again."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

import numpy as np
from numpy.typing import NDArray

from pigmap.geometry.cells import inside
from pigmap.geometry.frame import CellFrame
from pigmap.ground.history import History, Remembered, history_of
from pigmap.ground.rasters import Rasters
from pigmap.ground.renewal import Made
from pigmap.ground.wear import SoilWater, grown_warmth, soil_water_of, worn_days
from pigmap.records import AS_PLANNED, Farm, Field
from pigmap.weather.climate import Warmth


@dataclass(slots=True, eq=False)
class _OfField:
    """What is kept of one field, each with what it rests on."""

    rasters: Rasters = field(default_factory=Rasters)
    within: tuple[CellFrame, object, NDArray[np.bool_]] | None = None
    water: tuple[object, Field, int, SoilWater | None] | None = None
    worn: tuple[Warmth, SoilWater | None, NDArray[np.float64]] | None = None
    grown: tuple[Warmth, SoilWater | None, tuple[Warmth, Warmth]] | None = None
    made: Made | None = None


class Known:
    """What is kept from one preparation to the next; belongs to one thread.

    The history of a farm serves all its fields, and the cells of a stay serve until it or its field is redrawn.
    """

    def __init__(self) -> None:
        self._farm: Farm | None = None
        self._today = AS_PLANNED
        self._history: History | None = None
        self._remembered = Remembered()
        self._fields: dict[str, _OfField] = {}

    def history(self, farm: Farm, today: date) -> History:
        """Return what happened on a farm, as it is seen on a day."""
        if self._history is None or self._farm is not farm or self._today != today:
            self._farm, self._today = farm, today
            self._history = history_of(farm, today, self._remembered)
        return self._history

    def rasters(self, field_uid: str) -> Rasters:
        """Return the cells that are known of a field."""
        return self._of(field_uid).rasters

    def within(self, field: Field, frame: CellFrame) -> NDArray[np.bool_]:
        """Return which cells are of a field, (rows, columns)."""
        kept = self._of(field.uid)
        if kept.within is None or kept.within[0] != frame or kept.within[1] is not field.outline:
            kept.within = frame, field.outline, inside(frame, field.outline)
        return kept.within[2]

    def worn(self, farm: Farm, field: Field, warmth: Warmth, water: SoilWater | None) -> NDArray[np.float64]:
        """Return the days since the first of the warmth, wet ones for more, by the water that is told or recorded."""
        kept = self._of(field.uid)
        water = water if water is not None else self._water(farm, field, warmth.first)
        if kept.worn is None or kept.worn[0] is not warmth or kept.worn[1] is not water:
            kept.worn = warmth, water, worn_days(warmth, water)
        return kept.worn[2]

    def grown(self, farm: Farm, field: Field, warmth: Warmth, water: SoilWater | None) -> tuple[Warmth, Warmth]:
        """Return the warmth that counts for growth, in a drought less; and the same if there is rain from now on."""
        kept = self._of(field.uid)
        water = water if water is not None else self._water(farm, field, warmth.first)
        if kept.grown is None or kept.grown[0] is not warmth or kept.grown[1] is not water:
            both = grown_warmth(warmth, water), grown_warmth(warmth, water, until_read=True)
            kept.grown = warmth, water, both
        return kept.grown[2]

    def made(self, field_uid: str) -> Made | None:
        """Return the regions and time lines of a field that were made last."""
        return self._of(field_uid).made

    def keep(self, field_uid: str, made: Made) -> None:
        """Keep regions and time lines for the next change."""
        self._of(field_uid).made = made

    def _water(self, farm: Farm, field: Field, first: int) -> SoilWater | None:
        kept = self._of(field.uid)
        water = kept.water
        if water is None or water[0] is not farm.weather_days or water[1:3] != (field, first):
            water = kept.water = farm.weather_days, field, first, soil_water_of(farm, field, first)
        return water[3]

    def _of(self, field_uid: str) -> _OfField:
        return self._fields.setdefault(field_uid, _OfField())
