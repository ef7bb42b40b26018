"""Wet: whether the soil is too full of water for pigs on a day."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.tint import OFF_WATER, WATER, KeyStep, Layers
from pigmap.drawing.tokens import WET_COLOURS
from pigmap.text import Text, Unit
from pigmap.weather.soil_water import is_too_wet, wants_care

WORDS = (Text("dry enough"), Text("take care"), Text("too wet"))


class Wet:
    """Three steps by the water that the soil lacks to be full."""

    api = 1
    name = "wet"
    title = Text("Wet")
    unit: Unit = "mm"
    clods = False
    asks = WATER
    across = Text("water in the soil")
    notes = (
        Text(
            "By rain and warmth. Days of which none is written down, and days to come, count as usual for the season."
        ),
        Text("Not known: no soil told, or no rain. The boot on the ground comes first."),
        OFF_WATER,
    )

    def steps(self, state: Layers) -> NDArray[np.uint8]:
        """Return the step for each element, from 0 (dry enough) to 2 (too wet)."""
        lacks = state[WATER]
        return (wants_care(lacks) + 2 * is_too_wet(lacks)).astype(np.uint8)

    def key(self) -> tuple[KeyStep, ...]:
        """Return the steps from dry to wet."""
        return tuple(KeyStep(colour, words) for colour, words in zip(WET_COLOURS, WORDS, strict=True))


tint = Wet()
