"""Rooting: clods on the bare photo, the denser the more is turned over."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.tint import KeyStep, Layers
from pigmap.drawing.tokens import BARE, CLOD_COLOUR, ROOTING_WORDS
from pigmap.text import Text, Unit


class Rooting:
    """No colour, only clods: one density for each word."""

    api = 1
    name = "rooting"
    title = Text("Rooting")
    unit: Unit = "1"
    clods = True

    def steps(self, state: Layers) -> NDArray[np.uint8]:
        """Return the bare step for each element: the clods say it."""
        return np.full(len(state["rooting"]), BARE, dtype=np.uint8)

    def key(self) -> tuple[KeyStep, ...]:
        """Return the words from hardly to all rooted, each in the colour of clods."""
        return tuple(KeyStep(CLOD_COLOUR, words) for words in ROOTING_WORDS)


tint = Rooting()
