"""Slope: how steep the ground is, from a terrain image."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.tint import SLOPE, KeyStep, Layers
from pigmap.drawing.tokens import SLOPE_COLOURS
from pigmap.text import Quantity, Text, Unit

STEEPER_DEG, STEEP_DEG = 7.0, 12.0
"""Lower edges of the second and the third step [degrees].

12 degrees: public page of the government of the United Kingdom on the farming rules for water of England, which sees
more risk from there on. 7 degrees: from memory, classes of soil erosion of the United Kingdom.
"""


class Slope:
    """Three steps; ground outside the terrain image is not known."""

    api = 1
    name = "slope"
    title = Text("Slope")
    unit: Unit = "°"
    clods = False
    asks = SLOPE
    across = Text("how steep")
    notes = (
        Text("From a terrain image (More, Terrain image). Rain runs off steep ground, and rooted ground with it."),
    )

    def steps(self, state: Layers) -> NDArray[np.uint8]:
        """Return the step for each element, from 0 (gentle) to 2 (steep)."""
        slope = state[SLOPE]
        return (slope >= STEEPER_DEG).astype(np.uint8) + (slope > STEEP_DEG).astype(np.uint8)

    def key(self) -> tuple[KeyStep, ...]:
        """Return the steps from gentle to steep."""
        first, last = Quantity(STEEPER_DEG, "°", 0), Quantity(STEEP_DEG, "°", 0)
        words = (
            Text("under {most}", {"most": first}),
            Text("{least} to {most}", {"least": first, "most": last}),
            Text("above {least}", {"least": last}),
        )
        return tuple(KeyStep(colour, each) for colour, each in zip(SLOPE_COLOURS, words, strict=True))


tint = Slope()
