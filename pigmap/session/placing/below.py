"""The state of the ground under a place."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

import numpy as np
import shapely

from pigmap.geometry.cells import cells_inside
from pigmap.ground.state import GroundState


class Below(NamedTuple):
    """The ground under a place, as far as it is known; names and units as in `Judgement`."""

    rest_least_days: int | None = None
    rest_mean_days: float | None = None
    never_used_share: float | None = None
    unknown_share: float | None = None
    rooting: float | None = None
    seen_on: date | None = None


def below(state: GroundState | None, outline: shapely.Polygon) -> Below:
    """Return the ground under an outline on the day of a state; nothing where none of its cells lie under it."""
    under = state.under(outline) if state is not None else None
    if state is None or under is None:
        return Below()
    cells, _ = cells_inside(state.ground.frame, [outline])
    regions = state.ground.region_of.ravel()[cells]
    rest = state.layers["rest_days"][regions[regions >= 0]]
    used = rest[rest >= 0]
    mean = float(np.mean(used)) if len(used) else None
    return Below(under.rest_days, mean, under.never_used, under.unknown, under.rooting, under.seen_on)
