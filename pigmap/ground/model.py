"""The numbers that a field's ground is computed with: defaults, or the farm's own settings."""

from __future__ import annotations

import math

from pigmap.ground import tables
from pigmap.ground.rest import WantedRest, wanted_rest
from pigmap.ground.wear import cover_times
from pigmap.records import Farm, Field, GroundCover
from pigmap.records.frozen import dataclass

SETTINGS = ("ready cover", "seen days", "cover loss", "cover regrowth", "wood loss", "manure source")
"""Keys of the settings that change the ground."""


@dataclass(frozen=True, slots=True)
class Model:
    """How cover goes and comes back on one field."""

    loss: float
    """Share of cover lost for each unit of load [m²/(kg·d)]."""
    regrowth: float
    """Growth rate for each degree-day [1/(°C·d)]."""
    most: float = tables.MOST_COVER
    least: float = tables.LEAST_COVER
    ready_cover: float = tables.READY_COVER
    rest: WantedRest = WantedRest((101,), (30,))
    """Rest before ground is ready again, whatever has grown."""
    seen_days: int = tables.SEEN_DAYS


def model_of(farm: Farm, field: Field) -> Model:
    """Return the numbers for a field: by its ground cover and purposes, and by what the farm has set."""
    loss = _number(farm, "cover loss", tables.LOSS_M2_KG_D, 0.0, 10.0)
    regrowth = _number(farm, "cover regrowth", tables.REGROWTH_PER_C_D, 1e-6, 1.0)
    wood = _number(farm, "wood loss", tables.LOSS_TIMES[GroundCover.WOODLAND], 0.0, 20.0)
    return Model(
        loss=loss * cover_times(field, wood),
        regrowth=regrowth * tables.REGROWTH_TIMES[field.ground_cover],
        ready_cover=_number(farm, "ready cover", tables.READY_COVER, 0.05, tables.MOST_COVER - 0.01),
        rest=wanted_rest(farm, field),
        seen_days=round(_number(farm, "seen days", tables.SEEN_DAYS, 0, 3650)),
    )


def _number(farm: Farm, key: str, default: float, least: float, most: float) -> float:
    """Return a setting held to its range; the default where it is no number (another program may have written it)."""
    value = farm.setting(key, default)
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
        return default
    return min(max(float(value), least), most)
