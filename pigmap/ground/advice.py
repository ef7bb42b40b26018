"""What the state of ground asks for: seed, and where its figures are to be trusted least."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.ground.pointer import stretches_on
from pigmap.ground.rest_start import last_weight, rest_start
from pigmap.ground.state import GroundState
from pigmap.ground.tables import DENSE_KG_M2, OVERSEED_DAYS, OVERSEED_FROM, RESEED_FROM, WINTER_MONTHS
from pigmap.ground.wear import TREES
from pigmap.records import Field
from pigmap.text import Quantity, Text

_WORTH_SAYING = 0.05
"""Share of the ground below which nothing is said of it. Own choice."""
_HARDLY = 0.10
"""Rooting below which it does not matter how sure it is. Own choice."""
_M2_PER_HA = 10_000.0
_LONG = Quantity(OVERSEED_DAYS, "d")


class SeedWanted(NamedTuple):
    """Ground that wants seed [m², of the grid]."""

    anew_m2: float
    """So much rooted when its rest began that little is left to come back."""
    over_m2: float
    """Half rooted, and long in coming back."""


def seed_wanted(state: GroundState, field: Field, outline: BaseGeometry | None = None) -> SeedWanted:
    """Return the ground under an outline, or of the whole field, that wants seed; nobody sows under trees."""
    region, cells = _cells(state, outline)
    if field.ground_cover in TREES or not len(region):
        return SeedWanted(0.0, 0.0)
    ground, on = state.ground, state.day.toordinal()
    start = rest_start(ground.timeline, stretches_on(ground.timeline, on))
    ahead = state.layers["ready_in_days"]
    waits = start.rests & (state.layers["cover"] < ground.model.ready_cover)
    anew = waits & (start.rooting > RESEED_FROM)
    long = (ahead < 0) | (on + ahead - start.day > OVERSEED_DAYS)
    over = waits & ~anew & (start.rooting >= OVERSEED_FROM) & long
    m2 = cells * ground.frame.cell_m**2
    return SeedWanted(float(m2[anew[region]].sum()), float(m2[over[region]].sum()))


class SeedAdvice(NamedTuple):
    """Advice to sow."""

    anew: bool
    """Whether to begin again; else to sow over what grows."""
    ground_m2: float
    words: Text


def seed_advice(state: GroundState, field: Field, outline: BaseGeometry | None = None) -> SeedAdvice | None:
    """Return the advice to sow an outline, or the whole field, or a part of it; None where there is none to give."""
    wanted = seed_wanted(state, field, outline)
    least = _WORTH_SAYING * len(state.cells_under(outline)) * state.ground.frame.cell_m**2
    values = {"anew": Quantity(RESEED_FROM, "1"), "over": Quantity(OVERSEED_FROM, "1"), "days": _LONG}
    if wanted.anew_m2 > least:
        words = Text(
            "Sow {ground} again: more than {anew} of it was rooted when its rest began.",
            {**values, "ground": Quantity(wanted.anew_m2, "m²")},
        )
        return SeedAdvice(True, wanted.anew_m2, words)
    if wanted.over_m2 > least:
        words = Text(
            "Sow over {ground}: more than {over} of it was rooted when its rest began, and it takes more than {days} "
            "to come back.",
            {**values, "ground": Quantity(wanted.over_m2, "m²")},
        )
        return SeedAdvice(False, wanted.over_m2, words)
    return None


def weak_readings(state: GroundState, outline: BaseGeometry | None = None, *, south: bool = False) -> list[Text]:
    """Return why the rooting of some ground is little to be trusted, in words; nothing where there is no such reason.

    What was seen at a daily check is not computed, and ground that is hardly rooted leaves nothing to doubt.
    """
    region, cells = _cells(state, outline)
    computed = ~state.layers["seen"][region] & state.layers["used"][region]
    worn = computed & (state.layers["rooting"][region] > _HARDLY)
    if not len(region) or cells[worn].sum() <= _WORTH_SAYING * cells.sum():
        return []
    found = []
    if _is_winter(state.day, south):
        found.append(Text("In the dark months computed rooting is mostly too much: look yourself."))
    line = state.ground.timeline
    weight = last_weight(line, stretches_on(line, state.day.toordinal()))[region]
    if (weight[worn] > DENSE_KG_M2).any():
        found.append(
            Text(
                "With more than {weight} of pigs on the ground computed rooting is mostly too much: it counts their "
                "number too strongly and their moving on too weakly.",
                {"weight": Quantity(DENSE_KG_M2 * _M2_PER_HA, "kg/ha")},
            )
        )
    return found


def _is_winter(day: date, south: bool) -> bool:
    month = (day.month + 5) % 12 + 1 if south else day.month
    return month in WINTER_MONTHS


def _cells(state: GroundState, outline: BaseGeometry | None) -> tuple[NDArray[np.intp], NDArray[np.int64]]:
    """Return the regions under an outline, and how many cells of each lie there."""
    return np.unique(state.cells_under(outline), return_counts=True)
