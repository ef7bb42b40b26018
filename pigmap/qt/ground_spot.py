"""Which field of the key the ground at a point matches."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.drawing.key import shows_unknown
from pigmap.drawing.tint import Layers, Tint, asks_for
from pigmap.drawing.tokens import BARE, UNKNOWN, rooting_class
from pigmap.errors import PluginError
from pigmap.qt.stage import Stage

if TYPE_CHECKING:
    from pigmap.drawing.page import FieldState


class GroundSpot(NamedTuple):
    """A field of the key: which of its steps, and how rooted (0 hardly to 4 all).

    Ground that was never used is of the step `BARE`, and ground that nobody knows of the step `UNKNOWN`.
    """

    step: int
    rooted: int


def ground_spot(stage: Stage, x_m: float, y_m: float) -> GroundSpot | None:
    """Return what the ground at a point is shown as; None off the fields, or where it is not computed yet.

    It never waits.
    """
    for uid, field in stage.session.farm.fields.items():
        west, south, east, north = field.outline.bounds
        if west <= x_m <= east and south <= y_m <= north and shapely.contains_xy(field.outline, x_m, y_m):
            tint = _tint(stage)
            if tint is None or not shows_unknown(tint):
                return None
            state = stage.session.seen.state(uid, stage.day, stage.today, asks_for(tint))
            return _spot(tint, state, x_m, y_m) if state is not None else None
    return None


def _tint(stage: Stage) -> Tint | None:
    try:
        tint: Tint = stage.session.registry.load("tints", stage.tint)
    except PluginError:
        return None
    return tint


def _spot(tint: Tint, state: FieldState, x_m: float, y_m: float) -> GroundSpot | None:
    frame, region_of = state.ground.frame, state.ground.region_of
    column, row = (int(part) for part in np.floor(frame.to_cells(np.array([[x_m, y_m]])))[0])
    if not (0 <= row < frame.rows and 0 <= column < frame.columns) or region_of[row, column] < 0:
        return None
    here = _OfOne(state.layers, int(region_of[row, column]))
    if here["unknown"][0]:
        return GroundSpot(UNKNOWN, 0)
    step = int(tint.steps(here)[0])
    if step == BARE:  # used ground can be bare too: it is not what the key calls never used
        return None if here["used"][0] else GroundSpot(BARE, 0)
    rooted = int(rooting_class(here["rooting"])[0]) if tint.clods else 0
    return GroundSpot(step, rooted)


class _OfOne(Mapping[str, NDArray[Any]]):
    """The arrays of one piece of ground alone; only those that are asked for are made."""

    def __init__(self, layers: Layers, region: int) -> None:
        self._layers, self._region = layers, region

    def __getitem__(self, name: str) -> NDArray[Any]:
        return self._layers[name][self._region : self._region + 1]

    def __iter__(self) -> Iterator[str]:
        return iter(self._layers)

    def __len__(self) -> int:
        return len(self._layers)
