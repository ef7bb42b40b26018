"""Layers for a planned paddock whose corners are being set one by one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.drawing.ghost import offending
from pigmap.drawing.layer import Hatch, Layer, Marks, Outlines, Size, Stroke
from pigmap.drawing.nets import POST, POSTS_FROM_M
from pigmap.drawing.rings import joined, rings_of
from pigmap.drawing.strokes import BAND, GHOST_FITS, GHOST_REFUSED, WALKED_CLOSING, WALKED_NEXT
from pigmap.drawing.tokens import CASING, MAP_NO, MAP_PLAN, PLAN_BAND
from pigmap.geometry.posts import posts

_CORNER = Size(12.0, 2.2)
_CASING = Size(1.8, 0.32)
_STAKE = Size(22.0, 4.0)


def free_ghost(
    corners: NDArray[np.float64],
    pointer: tuple[float, float] | None,
    *,
    fits: bool = True,
    spot: tuple[float, float] | None = None,
) -> tuple[Layer, ...]:
    """Return its sides: those that are set solid, the next one dashed, the closing one dotted.

    Parameters
    ----------
    corners
        That are set, (n, 2) [grid m].
    pointer
        Where the next one would be; None where the outline is closed.
    fits
        Whether nothing is against it so far.
    spot
        Where it offends.
    """
    if not len(corners):
        return ()
    points = corners if pointer is None else np.concatenate([corners, [pointer]])
    colour = MAP_PLAN if fits else MAP_NO
    made: list[Layer] = list(_ground(points, fits=fits)) if len(points) >= 3 else []
    if pointer is not None and len(corners) >= 2:
        made.append(_line([pointer, corners[0]], colour, WALKED_CLOSING.dash))
    if pointer is not None:
        made.append(_line([corners[-1], pointer], colour, WALKED_NEXT.dash))
    if len(corners) >= 2:
        made.append(_line(corners if pointer is not None else [*corners, corners[0]], colour, ()))
    sign = "dot" if fits else "cross"
    made.append(Marks(corners, sign, _CORNER, colour, CASING, _CASING))
    return (*made, offending(spot)) if spot is not None else tuple(made)


def _ground(points: NDArray[np.float64], *, fits: bool) -> tuple[Layer, ...]:
    shape = shapely.Polygon(points)
    if not shape.is_valid or shape.area <= 0.0:
        return ()
    rings = rings_of([shape])
    if fits:
        return (Outlines(*rings, closed=True, strokes=(Stroke(PLAN_BAND, BAND),), inside=True),)
    hatch = Hatch(MAP_NO, Size(15.0, 2.8), Size(1.8, 0.35), crossed=True)
    return (Outlines(*rings, closed=True, fill="#FFFFFF8C", hatch=hatch),)


def _line(points: Sequence[object] | NDArray[np.float64], colour: str, dash: tuple[float, ...]) -> Outlines:
    stroke = replace(GHOST_FITS if colour == MAP_PLAN else GHOST_REFUSED, dash=dash)
    return Outlines(*joined([np.array(points, dtype=np.float64)]), closed=False, strokes=(stroke,))


def free_posts(
    runs: Sequence[NDArray[np.float64]], bays_mm: Sequence[int], ground_per_grid: float = 1.0, *, fits: bool = True
) -> tuple[Layer, ...]:
    """Return the posts of nets along runs, each from its begin."""
    if not runs:
        return ()
    every = np.concatenate([posts(run, bays_mm, ground_per_grid) for run in runs])
    return (Marks(every, "dot", POST, MAP_PLAN if fits else MAP_NO, smallest_scale=POSTS_FROM_M),)


def own_stakes(corners: Sequence[tuple[float, float]]) -> tuple[Layer, ...]:
    """Return the rings round corners that fall between two posts."""
    if not corners:
        return ()
    return (Marks(np.array(corners), "ring", _STAKE, MAP_PLAN, CASING, Size(1.6, 0.3)),)
