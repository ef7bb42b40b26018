"""How much of some ground is steep, from the slopes of its cells."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.cells import cells_inside
from pigmap.geometry.frame import CellFrame
from pigmap.records.frozen import dataclass

SLOPING_DEG, STEEP_DEG = 7.0, 12.0
"""From where ground is called sloping, and above which steep [degrees].

12 degrees: public page of the government of the United Kingdom on the farming rules for water of England, which sees
more risk from there on. 7 degrees: from memory, classes of soil erosion of the United Kingdom.
"""
LEAST_SHARE = 0.05
"""Share of some ground that has to be so steep before it is told. Assumed."""


class SlopeCells(NamedTuple):
    """The slopes of a field's cells."""

    frame: CellFrame
    slopes_deg: NDArray[np.floating]
    """(rows, columns); not a number where it is not known."""


@dataclass(frozen=True, slots=True)
class Steep:
    """How steep some ground is."""

    most_deg: float
    """Slope that a twentieth of it reaches [degrees]."""
    above_weak: float
    """Share of it that is sloping, steep ground included."""
    above_strong: float
    """Share of it that is steep."""
    strong_deg: float = STEEP_DEG

    @property
    def is_sloping(self) -> bool:
        """Whether enough of it slopes."""
        return self.above_weak >= LEAST_SHARE

    @property
    def is_steep(self) -> bool:
        """Whether enough of it is steep."""
        return self.above_strong >= LEAST_SHARE


def steep_under(frame: CellFrame, slopes_deg: NDArray[np.floating], outline: BaseGeometry) -> Steep | None:
    """Return how steep the ground under an outline is; None where no terrain image reaches it.

    Parameters
    ----------
    frame
        The cells.
    slopes_deg
        Slope of each cell, (rows, columns) [degrees]; not a number where it is not known.
    outline
        The ground [grid m].
    """
    flat = slopes_deg.ravel()[cells_inside(frame, [outline])[0]]
    known = flat[~np.isnan(flat)]
    if not len(known):
        return None
    most = float(np.sort(known)[max(int(np.ceil(len(known) * (1.0 - LEAST_SHARE))) - 1, 0)])
    return Steep(most, float(np.mean(known >= SLOPING_DEG)), float(np.mean(known > STEEP_DEG)))
