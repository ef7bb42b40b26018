"""The tinted ground of a field as the map shows it; without clods where a day is only passed over."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.layer import Cells
from pigmap.drawing.tint import KeyStep, Layers, Tint
from pigmap.drawing.tinted import tinted_cells
from pigmap.records import Field
from pigmap.text import Text, Unit

if TYPE_CHECKING:
    from pigmap.drawing.page import FieldState


class _WithoutClods:
    """A tint that colours as another does, and draws no clods."""

    api = 1
    clods = False

    def __init__(self, tint: Tint) -> None:
        self._tint = tint
        self.name: str = tint.name
        self.title: Text = tint.title
        self.unit: Unit = tint.unit

    def steps(self, state: Layers) -> NDArray[np.uint8]:
        """Return the step of the ramp for each element."""
        return self._tint.steps(state)

    def key(self) -> tuple[KeyStep, ...]:
        """Return the steps from the first to the last."""
        return self._tint.key()


def field_cells(field: Field, state: FieldState, tint: Tint, *, computed: bool, clods: bool = True) -> Cells:
    """Return the ground of a field coloured by a tint.

    Parameters
    ----------
    field, state
        The field, and its ground on a day.
    tint
        What colours it.
    computed
        Whether the day is still to come: nothing on it was seen.
    clods
        Whether clods are drawn where the tint has them.
    """
    ground = state.ground
    used = tint if clods or not tint.clods else _WithoutClods(tint)
    return tinted_cells(field, ground.frame, ground.region_of, state.layers, used, computed=computed)
