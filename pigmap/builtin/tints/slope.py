"""Slope: how steep the ground is, from a terrain image."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.tint import OFF_WATER, SLOPE, KeyStep, Layers
from pigmap.drawing.tokens import SLOPE_COLOURS
from pigmap.geometry.steep import SLOPING_DEG, STEEP_DEG
from pigmap.text import Quantity, Text, Unit


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
        OFF_WATER,
    )

    def steps(self, state: Layers) -> NDArray[np.uint8]:
        """Return the step for each element, from 0 (gentle) to 2 (steep)."""
        slope = state[SLOPE]
        return (slope >= SLOPING_DEG).astype(np.uint8) + (slope > STEEP_DEG).astype(np.uint8)

    def key(self) -> tuple[KeyStep, ...]:
        """Return the steps from gentle to steep."""
        first, last = Quantity(SLOPING_DEG, "°", 0), Quantity(STEEP_DEG, "°", 0)
        words = (
            Text("under {most}", {"most": first}),
            Text("{least} to {most}", {"least": first, "most": last}),
            Text("above {least}", {"least": last}),
        )
        return tuple(KeyStep(colour, each) for colour, each in zip(SLOPE_COLOURS, words, strict=True))


tint = Slope()
