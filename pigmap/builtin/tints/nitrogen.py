"""Nitrogen: what pigs and manure laid on the ground in twelve months."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.animals.nitrogen import NITROGEN_CAP_KG_HA
from pigmap.drawing.tint import KeyStep, Layers
from pigmap.drawing.tokens import BARE, STOCKING_COLOURS
from pigmap.text import Quantity, Text, Unit
from pigmap.text.source import NITROGEN_CAP

FROM = (0.0, 15.0, 40.0, NITROGEN_CAP_KG_HA / 2, NITROGEN_CAP_KG_HA)
"""Lower edge of each step [kg/ha]: more than a light pass or two, a quarter of the cap, half of it, the cap. Own
choice."""


class Nitrogen:
    """Five steps in the colours of stocking; ground on which nothing was laid stays bare."""

    api = 1
    name = "nitrogen"
    title = Text("Nitrogen")
    unit: Unit = "kg/ha"
    clods = False
    across = Text("laid on in 12 months")
    figure = "n_kg_ha"
    mark_at_step = FROM.index(NITROGEN_CAP_KG_HA)
    notes = (
        Text(
            "Blue mark: {cap} a year, {source}. Advice: local limits may be lower, ask your adviser.",
            {"cap": Quantity(NITROGEN_CAP_KG_HA, "kg/ha"), "source": NITROGEN_CAP},
        ),
    )

    def steps(self, state: Layers) -> NDArray[np.uint8]:
        """Return the step for each element."""
        laid = state["n_kg_ha"]
        step = np.zeros(len(laid), dtype=np.uint8)
        for least in FROM[1:]:
            step += laid >= least
        step[laid <= 0] = BARE
        return step

    def key(self) -> tuple[KeyStep, ...]:
        """Return the steps from the least to the most."""
        return tuple(KeyStep(colour, _from(least)) for colour, least in zip(STOCKING_COLOURS, FROM, strict=True))


def _from(least: float) -> Text:
    if least == 0:
        return Text("up to {most}", {"most": Quantity(FROM[1], "kg/ha", 0)})
    return Text("from {least}", {"least": Quantity(least, "kg/ha", 0)})


tint = Nitrogen()
