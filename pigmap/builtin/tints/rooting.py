"""Rooting: clods on a pale wash over the photo, the denser the more is turned over."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.tint import KeyStep, Layers
from pigmap.drawing.tokens import BARE, ROOTING_WORDS
from pigmap.text import Text, Unit

WASH = "#FFFFFF99"
"""Lies over ground that pigs were on, so that clods stand out on grass and under trees alike."""


class Rooting:
    """One wash for all used ground, and clods: a density for each word."""

    api = 1
    name = "rooting"
    title = Text("Rooting")
    unit: Unit = "1"
    clods = True

    def steps(self, state: Layers) -> NDArray[np.uint8]:
        """Return the wash for each element that was used; the clods say the rest."""
        return np.where(state["used"], np.uint8(0), np.uint8(BARE))

    def key(self) -> tuple[KeyStep, ...]:
        """Return the words from hardly to all rooted, all on the same wash."""
        return tuple(KeyStep(WASH, words) for words in ROOTING_WORDS)


tint = Rooting()
