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
from pigmap.drawing.rings import rings_of
from pigmap.drawing.strokes import BAND, GHOST_FITS, GHOST_REFUSED, WALKED_CLOSING, WALKED_NEXT
from pigmap.drawing.tokens import CASING, MAP_NO, MAP_PLAN, PLAN_BAND

_CORNER = Size(12.0, 2.2)
_CASING = Size(1.8, 0.32)
_STAKE = Size(22.0, 4.0)


def free_ghost(corners: NDArray[np.float64], *, fits: bool = True) -> tuple[Layer, ...]:
    """Return a closed outline, by its corners, (n, 2) [grid m]."""
    if not len(corners):
        return ()
    return (*_ground(corners, fits=fits), *free_sides(np.concatenate([corners, corners[:1]]), fits=fits))


def free_sides(corners: NDArray[np.float64], *, fits: bool = True) -> tuple[Layer, ...]:
    """Return the sides between corners that are set, and the corners."""
    if not len(corners):
        return ()
    colour = MAP_PLAN if fits else MAP_NO
    line = (_line(corners, colour, ()),) if len(corners) >= 2 else ()
    return (*line, Marks(corners, "dot" if fits else "cross", _CORNER, colour, CASING, _CASING))


def free_next(
    corners: NDArray[np.float64],
    pointer: tuple[float, float],
    *,
    fits: bool = True,
    spot: tuple[float, float] | None = None,
) -> tuple[Layer, ...]:
    """Return what comes with the next corner: its side dashed, the closing one dotted, and a veil where it is refused.

    Band and lattice come once it is closed: what follows the pointer is painted with every move.

    Parameters
    ----------
    corners, pointer
        That are set, (n, 2), and where the next one would be [grid m].
    fits
        Whether nothing is against it so far.
    spot
        Where it offends.
    """
    if not len(corners):
        return ()
    colour = MAP_PLAN if fits else MAP_NO
    closing = (_line([pointer, corners[0]], colour, WALKED_CLOSING.dash),) if len(corners) >= 2 else ()
    offends = (offending(spot),) if spot is not None else ()
    return (
        *(() if fits else _veil(np.concatenate([corners, [pointer]]))),
        *closing,
        _line([corners[-1], pointer], colour, WALKED_NEXT.dash),
        *offends,
    )


def _veil(points: NDArray[np.float64]) -> tuple[Layer, ...]:
    if len(points) < 3:
        return ()
    return (Outlines(points, np.array([0, len(points)]), closed=True, fill="#FFFFFF8C"),)


def _ground(points: NDArray[np.float64], *, fits: bool) -> tuple[Layer, ...]:
    shape = shapely.Polygon(points) if len(points) >= 3 else shapely.Polygon()
    if not shape.is_valid or shape.area <= 0.0:
        return ()
    rings = rings_of([shape])
    if fits:
        return (Outlines(*rings, closed=True, strokes=(Stroke(PLAN_BAND, BAND),), inside=True),)
    hatch = Hatch(MAP_NO, Size(15.0, 2.8), Size(1.8, 0.35), crossed=True)
    return (Outlines(*rings, closed=True, fill="#FFFFFF8C", hatch=hatch),)


def _line(points: Sequence[object] | NDArray[np.float64], colour: str, dash: tuple[float, ...]) -> Outlines:
    stroke = replace(GHOST_FITS if colour == MAP_PLAN else GHOST_REFUSED, dash=dash)
    return Outlines(np.array(points, dtype=np.float64), np.array([0, len(points)]), closed=False, strokes=(stroke,))


def free_posts(posts: Sequence[tuple[float, float]], *, fits: bool = True) -> tuple[Layer, ...]:
    """Return posts of nets that are still to be set."""
    if not posts:
        return ()
    return (Marks(np.array(posts), "dot", POST, MAP_PLAN if fits else MAP_NO, smallest_scale=POSTS_FROM_M),)


def own_stakes(corners: Sequence[tuple[float, float]]) -> tuple[Layer, ...]:
    """Return the rings round corners that fall between two posts."""
    if not corners:
        return ()
    return (Marks(np.array(corners), "ring", _STAKE, MAP_PLAN, CASING, Size(1.6, 0.3)),)
