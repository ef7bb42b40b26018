"""What is shown while a paddock is put where it stands: itself, where it was, and the planned row that follows."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from pigmap.builtin.tools.moved_ground import MovedGround
from pigmap.drawing.layer import Layer, Marks, Outlines, Size
from pigmap.drawing.nets import POST, POSTS_FROM_M
from pigmap.drawing.rings import rings_of
from pigmap.drawing.strokes import GHOST_FITS, STAY_PAST, WALKED
from pigmap.drawing.tokens import CASING, MAP_INK, MAP_PLAN
from pigmap.geometry.posts import posts
from pigmap.records import NetKind

_CORNER = Size(9.2, 1.7)
_BETWEEN = Size(6.0, 1.1)
_CHOSEN = Size(18.0, 3.2)
_CASING = Size(1.8, 0.3)


def here_layers(
    ground: MovedGround,
    now: shapely.Polygon,
    follows: Sequence[shapely.Polygon],
    kind: NetKind | None,
    ground_per_grid: float,
    least_side_m: float = 0.0,
) -> tuple[Layer, ...]:
    """Return the layers for ground as it is dragged, with its corners to take hold of.

    Parameters
    ----------
    ground
        The ground that is moved.
    now
        As it is at this moment of the drag.
    follows
        The planned paddocks where they would come to lie: in lines without breaks, since the dashed ones of the plan
        as it was are still there.
    kind
        The nets round it, whose posts are shown; None for none.
    least_side_m
        A side that is shorter shows no middle to take hold of [grid m].
    """
    made: list[Layer] = []
    if ground.changed or now is not ground.now:
        made.append(Outlines(*rings_of([ground.before]), closed=True, strokes=(STAY_PAST,)))
    if follows:
        rings = rings_of(follows)
        made += [
            Outlines(*rings, closed=True, strokes=(GHOST_FITS,)),
            Marks(rings.points, "dot", _BETWEEN, MAP_PLAN, CASING, _CASING),
        ]
    made.append(Outlines(*rings_of([now]), closed=True, strokes=(WALKED,)))
    if kind is not None:
        around = posts(shapely.get_coordinates(now.exterior), kind.bays_mm, ground_per_grid)
        made.append(Marks(around, "dot", POST, MAP_INK, smallest_scale=POSTS_FROM_M))
    corners = shapely.get_coordinates(now.exterior)[:-1]
    after = np.roll(corners, -1, axis=0)
    between = ((corners + after) / 2)[np.hypot(*(after - corners).T) >= least_side_m]
    made += [
        Marks(between, "dot", _BETWEEN, CASING, MAP_INK, _CASING),
        Marks(corners, "dot", _CORNER, MAP_INK, CASING, _CASING),
    ]
    if ground.corner is not None and ground.corner < len(corners):
        made.append(Marks(corners[[ground.corner]], "ring", _CHOSEN, MAP_INK, CASING, _CASING))
    return tuple(made)
