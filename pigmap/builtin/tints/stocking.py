"""Stocking: live weight x days that the ground carried in twelve months."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.tint import KeyStep, Layers
from pigmap.drawing.tokens import BARE, STOCKING_COLOURS
from pigmap.text import Quantity, Text, Unit
from pigmap.units import PIG_KG

FROM = (0.0, 1.0, 2.5, 5.0, 10.0)
"""Lower edge of each step [kg·d/m²]. Assumed: in one go 1 takes a ley, 2.5 old sod down to three quarters green."""


class Stocking:
    """Five steps of load; ground that carried nothing stays bare."""

    api = 1
    name = "stocking"
    title = Text("Stocking")
    unit: Unit = "kg·d/m²"
    clods = False
    across = Text("in 12 months, a pig is {weight}", {"weight": Quantity(PIG_KG, "kg")})
    figure = "load_kg_d_m2"

    def steps(self, state: Layers) -> NDArray[np.uint8]:
        """Return the step of load for each element."""
        load = state["load_kg_d_m2"]
        step = np.zeros(len(load), dtype=np.uint8)
        for least in FROM[1:]:
            step += load >= least
        step[load <= 0] = BARE
        return step

    def key(self) -> tuple[KeyStep, ...]:
        """Return the steps from the least load to the most."""
        return tuple(
            KeyStep(colour, _from(least, FROM[1])) for colour, least in zip(STOCKING_COLOURS, FROM, strict=True)
        )


def _from(least: float, next_step: float) -> Text:
    if least == 0:
        return Text("up to {most}", {"most": _load(next_step)})
    return Text("from {least}", {"least": _load(least)})


def _load(load: float) -> Quantity:
    return Quantity(load, "kg·d/m²")


tint = Stocking()
