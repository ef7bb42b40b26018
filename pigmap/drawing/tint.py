"""The contract of a tint: a way to colour the ground."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from pigmap.records.frozen import dataclass
from pigmap.text import Text, Unit

Layers = Mapping[str, NDArray[Any]]
"""Arrays of one length by name: ``occupied`` (bool), ``rest_days`` (int32, -1 never used), ``cover`` and
``rooting`` (0 to 1), ``load_kg_d_m2``, ``ready_in_days`` (int32, -1 not within sight), ``seen`` (bool),
``used`` (bool: whether pigs were ever there), ``unknown`` (bool: whether nobody can say that), ``n_kg_ha``,
``p_kg_ha``; and for a tint that asks for one of them (`Tint`) ``lacks_mm`` (water that the soil lacks to be full) or
``slope_deg``, not a number where nobody knows, as ``unknown`` says then."""

WATER, SLOPE = "lacks_mm", "slope_deg"
"""Names of the arrays that a tint can ask for."""


OFF_WATER = Text("Hatched: near water, wells and flow lines, where pigs are usually kept off. Local rules come first.")
"""A note of the tints that show it."""


def asks_for(tint: Tint) -> str:
    """Return the name of the array that a tint asks for, or nothing."""
    return str(getattr(tint, "asks", ""))


def tells_use(tint: Tint) -> bool:
    """Whether a tint leaves ground bare that was never used.

    One that asks for an array of its own does not, nor one that says ``everywhere``.
    """
    return not asks_for(tint) and not getattr(tint, "everywhere", False)


@dataclass(frozen=True, slots=True)
class KeyStep:
    """One step of a ramp: its colour and what it means."""

    colour: str
    words: Text


class Tint(Protocol):
    """Turns the state of the ground into steps of a ramp.

    A tint may also have ``across``, a `Text` over the steps of its key, ``notes``, a tuple of `Text` that its key ends
    with, and ``mark_at_step``, the step at whose lower edge its key has a blue mark; ``figure``, the name of the array
    of which each paddock bears the figure, in the tint's unit; and ``everywhere``, whether it colours ground that was
    never used, too.

    ``api = 1``. A tint knows neither Qt nor the farm: it sees the arrays of `Layers` and answers with a step for
    each. 255 leaves the photo bare. Ground that is unknown gets no step: it is shown alike by all tints.

    It may also have ``asks``: the name of an array that is made for it alone, ``lacks_mm`` or ``slope_deg``. What is
    unknown is then where that is not known; with ``slope_deg`` all arrays have an element for each cell.
    """

    api: int
    name: str
    """What it is called in commands and settings."""
    title: Text
    """What it is called on screen."""
    unit: Unit
    clods: bool
    """Whether rooting is drawn over it as clods."""

    def steps(self, state: Layers) -> NDArray[np.uint8]:
        """Return the step of the ramp for each element."""
        ...

    def key(self) -> tuple[KeyStep, ...]:
        """Return the steps from the first to the last."""
        ...
