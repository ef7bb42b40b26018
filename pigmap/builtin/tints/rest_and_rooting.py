"""Rest and rooting: clods over the colour of rest."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.builtin.tints.rest import Rest
from pigmap.drawing.tint import KeyStep, Layers
from pigmap.text import Text, Unit


class RestAndRooting:
    """The steps of rest, with clods over them, so that both are read at once."""

    api = 1
    name = "rest-and-rooting"
    title = Text("Rest and rooting")
    unit: Unit = "d"
    clods = True

    def steps(self, state: Layers) -> NDArray[np.uint8]:
        """Return the step of rest for each element."""
        return Rest().steps(state)

    def key(self) -> tuple[KeyStep, ...]:
        """Return the steps of rest."""
        return Rest().key()


tint = RestAndRooting()
