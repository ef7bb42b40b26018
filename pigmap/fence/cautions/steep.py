"""Nets on steep ground reach less far, and leave holes under them (W13)."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
import shapely

from pigmap.fence.cautions.caution import Caution, Level, LiveGround
from pigmap.fence.tables import STEEP_FENCE_DEG, STEEP_SOURCE
from pigmap.geometry.steep import SlopeCells
from pigmap.text import Quantity, Text, Value

USUAL_NET_M = 50.0
"""Length of the net of which it is said how much less far it reaches [m]."""
REMEDY = Text(
    "Carry nets for the longer way, close holes under the bottom strand where pigs could push through, or set that "
    "side along the slope."
)


def steep_fence(live: LiveGround, known: Iterable[SlopeCells]) -> Caution | None:
    """Return that ground under a fence is steep; None where it is not, or no terrain image reaches it.

    Parameters
    ----------
    live
        The ground that the fence stands round.
    known
        Slopes of the fields it may lie in.
    """
    most = max((steepest_deg(live.ground, cells) for cells in known), default=0.0)
    if most <= STEEP_FENCE_DEG:
        return None
    values: dict[str, Value] = {
        "paddock": live.called,
        "most": Quantity(most, "°", 1),
        "limit": Quantity(STEEP_FENCE_DEG, "°", 0),
        "net": Quantity(USUAL_NET_M, "m", 0),
        "loss": Quantity(USUAL_NET_M * (1.0 - math.cos(math.radians(most))), "m", 1),
    }
    words = Text(
        "{paddock} has ground of {most} under its fence, more than {limit}: straight up it a net of {net} "
        "reaches {loss} less far, and it leaves holes under it.",
        values,
    )
    return Caution("W13", Level.NOTE, words, REMEDY, STEEP_SOURCE)


def steepest_deg(ground: shapely.Polygon, cells: SlopeCells) -> float:
    """Return the steepest slope of the cells that a fence goes over [degrees]; 0 where none is known."""
    line = shapely.segmentize(ground.exterior, cells.frame.cell_m / 2)
    at = np.floor(cells.frame.to_cells(shapely.get_coordinates(line))).astype(np.int64)
    inside = ((at >= 0) & (at < (cells.frame.columns, cells.frame.rows))).all(axis=1)
    column, row = at[inside].T
    slopes = cells.slopes_deg[row, column]
    known = slopes[~np.isnan(slopes)]
    return float(known.max()) if len(known) else 0.0
