"""Rest: days since pigs last left, from plum to straw."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.tint import KeyStep, Layers
from pigmap.drawing.tokens import REST_COLOURS, REST_FROM_DAY, rest_step
from pigmap.text import Text, Unit


class Rest:
    """Six steps of rest; ground that was never used stays bare."""

    api = 1
    name = "rest"
    title = Text("Rest")
    unit: Unit = "d"
    clods = False

    def steps(self, state: Layers) -> NDArray[np.uint8]:
        """Return the step of rest for each element: the first where pigs are, bare where they never were."""
        return rest_step(state["rest_days"])

    def key(self) -> tuple[KeyStep, ...]:
        """Return the steps from the shortest rest to the longest."""
        return _key()


@cache
def _key() -> tuple[KeyStep, ...]:
    ends = (*(day - 1 for day in REST_FROM_DAY[1:]), None)
    return tuple(
        KeyStep(colour, _between(first, last))
        for colour, first, last in zip(REST_COLOURS, REST_FROM_DAY, ends, strict=True)
    )


def _between(first: int, last: int | None) -> Text:
    if last is None:
        return Text("{first} days and more", {"first": first})
    return Text("{first} to {last} days", {"first": first, "last": last})


tint = Rest()
