"""How well a pinned picture fits, as one sentence."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from pigmap.geometry.pinned import FEWEST, Fit, Pin
from pigmap.text import Quantity, Text, Value

_STRETCHED = 1.25
"""A map is enlarged alike in all directions; a photo of it taken from one side not quite. Own choice."""
_STANDS_OUT = 2.0
"""A pin so many times as far off as the others are on the whole is named. Own choice."""
_WORTH_A_WORD_M = 0.5
"""A pin that is less off than the play of a net is not named. Own choice."""
_NAMED_FROM = 5
"""With fewer pins each is about as far off as the others, whichever of them is wrong."""


def metres_off(off_m: float) -> Quantity:
    """Return how far a pin is off, with no more digits than mean something."""
    return Quantity(off_m, "m", 1 if off_m < 0.95 else 0)


def fit_words(pins: Sequence[Pin], fit: Fit) -> Text:
    """Return how well a picture fits, such as: Fits to about 3 m; pin 2 is 9 m off."""
    if fit.stretch > _STRETCHED:
        return Text(
            "It is stretched or slanted by these pins, as a map seldom is. "
            "Look whether one of them is in the wrong place."
        )
    if len(pins) <= FEWEST:
        return Text("Three pins always fit. A fourth would show how well.")
    worst = int(np.argmax(fit.off_m))
    values: dict[str, Value] = {
        "about": metres_off(fit.about_m),
        "pin": worst + 1,
        "off": metres_off(fit.off_m[worst]),
    }
    others = np.sqrt(np.mean(np.delete(np.square(fit.off_m), worst)))
    if len(pins) >= _NAMED_FROM and fit.off_m[worst] > max(_STANDS_OUT * others, _WORTH_A_WORD_M):
        bent = "The picture is bent. It fits to about {about}; pin {pin} is {off} off."
        return Text(bent if fit.bent else "Fits to about {about}; pin {pin} is {off} off.", values)
    bent = "The picture is bent. It fits to about {about}."
    return Text(bent if fit.bent else "Fits to about {about}.", values)
