"""Ready: weeks until ground may be used again, in the colours of rest."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.tint import KeyStep, Layers
from pigmap.drawing.tokens import REST_COLOURS
from pigmap.text import Text, Unit

WEEKS = (0, 1, 2, 4, 8)
"""Most weeks of each step but the last."""


class Ready:
    """Six steps: straw is ready now, plum is ready later than in eight weeks or not within sight."""

    api = 1
    name = "ready"
    title = Text("Ready")
    unit: Unit = "d"
    clods = False
    everywhere = True
    across = Text("may be used again")

    def steps(self, state: Layers) -> NDArray[np.uint8]:
        """Return the step for each element, from 0 (now) to 5 (later)."""
        days = state["ready_in_days"]
        step = np.zeros(len(days), dtype=np.uint8)
        for weeks in WEEKS:
            step += days > weeks * 7
        step[days < 0] = len(WEEKS)
        return step

    def key(self) -> tuple[KeyStep, ...]:
        """Return the steps from now to later."""
        words = (
            Text("now"),
            *(Text("in {count} week", plural="in {count} weeks", count=weeks) for weeks in WEEKS[1:]),
            Text("later"),
        )
        return tuple(KeyStep(colour, each) for colour, each in zip(reversed(REST_COLOURS), words, strict=True))


tint = Ready()
