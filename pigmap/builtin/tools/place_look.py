"""The ghost and its leader as layers of a preview."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.builtin.tools.ghost import Ghost
from pigmap.drawing.ghost import fitting, offending, refused
from pigmap.drawing.layer import Layer, Outlines, Size, Stroke
from pigmap.drawing.nets import both_use, planned_layers
from pigmap.drawing.on_day import Shown
from pigmap.drawing.tokens import CASING, MAP_NO, MAP_PLAN
from pigmap.geometry.free_outline import Placed
from pigmap.geometry.rectangle import Rectangle
from pigmap.session.placing import Judgement

LEADER_PX = 1.8


def ghost_layers(
    ghost: Ghost, row: Sequence[Rectangle], judged: Sequence[Judgement], *, fitted: bool
) -> tuple[Layer, ...]:
    """Return the ghost, or a row of them.

    Parameters
    ----------
    ghost, row
        What is placed, and where.
    judged
        Figures of each; nothing while they are found.
    fitted
        Whether what has no figures yet is drawn as fitting.
    """
    made: list[Layer] = []
    for number, rectangle in enumerate(row):
        one = judged[number] if judged else None
        if one.fits if one is not None else fitted:
            shared = [run.line for run in one.shared_runs] if one is not None else []
            made += fitting(rectangle.outline, ghost.bays_mm, shared, ground_per_grid=ghost.ground.ground_per_grid)
        else:
            made += refused(rectangle.outline, offending_spot(one) if one is not None else None)
    return tuple(made)


def found_layers(ghost: Ghost, judgement: Judgement) -> tuple[Layer, ...]:
    """Return what the figures add to a ghost: sides that it shares, or the spot that offends."""
    if not judgement.fits:
        spot = offending_spot(judgement)
        return (offending(spot),) if spot is not None else ()
    shared = [run.line for run in judgement.shared_runs]
    return both_use(shared, [ghost.kind.bays_mm] * len(shared), ground_per_grid=ghost.ground.ground_per_grid)


def offending_spot(judgement: Judgement) -> tuple[float, float] | None:
    """Return where a place offends, if that is at a spot."""
    return next((each.spot for each in judgement.warnings if not each.care and each.spot is not None), None)


def leader(begin: tuple[float, float], end: tuple[float, float], *, fits: bool) -> Outlines:
    """Return the line from the plate to the ghost, or to the spot that offends [grid m]."""
    stroke = Stroke(MAP_PLAN if fits else MAP_NO, Size(LEADER_PX, 0.3), CASING, Size(4.4, 0.8))
    points: NDArray[np.float64] = np.array([begin, end])
    return Outlines(points, np.array([0, 2]), closed=False, strokes=(stroke,))


def waiting_layers(row: Sequence[Placed]) -> tuple[Layer, ...]:
    """Return paddocks that were set and are not on disk yet: as planned ones, without words."""
    outlines: list[shapely.Polygon] = [each.outline for each in row]
    return planned_layers([Shown(None, None, None, outline) for outline in outlines])
