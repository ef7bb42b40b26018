"""Where the next paddock of a row will end, shown faintly before it is placed: by its two far corners."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from pigmap.builtin.tools.ghost import Ghost
from pigmap.drawing.ghost import coming_corners
from pigmap.drawing.layer import Layer
from pigmap.geometry.rectangle import Rectangle
from pigmap.geometry.row import next_after
from pigmap.session.placing import Judgement
from pigmap.session.placing.free import is_free


def coming_layers(ghost: Ghost, row: Sequence[Rectangle], judged: Sequence[Judgement]) -> tuple[Layer, ...]:
    """Return the far corners of the paddock that would come next, crossed out where it could not lie there.

    Nothing is shown while nothing tells which way the row runs: for a paddock alone, one that shares no side.
    """
    shared = _shared_at(row, judged)
    if shared is None:
        return ()
    coming = next_after(row[-1], shared)
    corners = coming.corners
    here = np.array(row[-1].centre)
    far = np.sort(np.argsort(np.hypot(*(corners - here).T))[2:])
    return coming_corners(corners, far.tolist(), fits=is_free(ghost.ground, coming))


def _shared_at(row: Sequence[Rectangle], judged: Sequence[Judgement]) -> tuple[float, float] | None:
    """Return the middle of the side that the last of a row shares with what was before it."""
    if len(row) > 1:
        (x, y), (last_x, last_y) = row[-2].centre, row[-1].centre
        return (x + last_x) / 2, (y + last_y) / 2
    if not judged or not judged[0].fits or not judged[0].shared_runs:
        return None
    run = max(judged[0].shared_runs, key=lambda each: each.length_mm)
    east, north = ((run.line[0] + run.line[-1]) / 2).tolist()
    return east, north
