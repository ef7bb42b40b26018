"""Show nothing: the photo as it is."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.tint import KeyStep, Layers
from pigmap.drawing.tokens import BARE
from pigmap.text import Text, Unit


class NoTint:
    """Leaves the ground as the photo shows it."""

    api = 1
    name = "none"
    title = Text("Photo only")
    unit: Unit = "1"
    clods = False

    def steps(self, state: Layers) -> NDArray[np.uint8]:
        """Return the bare step for each element."""
        return np.full(len(state["rest_days"]), BARE, dtype=np.uint8)

    def key(self) -> tuple[KeyStep, ...]:
        """Return no steps."""
        return ()


tint = NoTint()
