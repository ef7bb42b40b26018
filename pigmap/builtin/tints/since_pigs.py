"""Since pigs: within how many years pigs were on the ground, apart from how far its plants are back."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.tint import KeyStep, Layers
from pigmap.drawing.tokens import BARE, SINCE_COLOURS
from pigmap.text import Text, Unit

DAYS_OF_YEAR = 365.25
FROM_YEAR = (0, 1, 2, 4, 9)
"""Least years of each step.

Eggs of the large roundworm were found alive in ground after up to at least 9 years (Katakam and others 2016, Parasites
and Vectors 9:80): the last step begins there and promises nothing. The other edges are our own choice.
"""


class SincePigs:
    """Five steps, the darkest where pigs were last; ground that was never used stays bare.

    Plants are back after weeks, roundworm eggs are there for years: the two are shown apart.
    """

    api = 1
    name = "since-pigs"
    title = Text("Since pigs")
    unit: Unit = "d"
    clods = False
    across = Text("pigs were here")
    notes = (
        Text(
            "Plants come back in weeks. Roundworm eggs in the ground can live for {years} years and longer: no colour "
            "says that they are gone.",
            {"years": FROM_YEAR[-1]},
        ),
    )

    def steps(self, state: Layers) -> NDArray[np.uint8]:
        """Return the step for each element."""
        days = state["rest_days"]
        step = np.zeros(len(days), dtype=np.uint8)
        for years in FROM_YEAR[1:]:
            step += days >= years * DAYS_OF_YEAR
        step[days < 0] = BARE
        return step

    def key(self) -> tuple[KeyStep, ...]:
        """Return the steps from the last year to long ago."""
        ends = (*FROM_YEAR[1:], None)
        return tuple(
            KeyStep(colour, _words(first, last))
            for colour, first, last in zip(SINCE_COLOURS, FROM_YEAR, ends, strict=True)
        )


def _words(first: int, last: int | None) -> Text:
    if last is None:
        return Text("{years} years ago or more", {"years": first})
    if first == 0:
        return Text("within a year")
    return Text("{first} to {last} years ago", {"first": first, "last": last})


tint = SincePigs()
