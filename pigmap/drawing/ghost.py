"""Layers for a paddock that is being placed: one that fits, and one that does not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import NDArray

from pigmap.drawing.layer import Hatch, Layer, Marks, Outlines, Size, Stroke
from pigmap.drawing.nets import POST, POSTS_FROM_M, both_use
from pigmap.drawing.rings import joined, rings_of
from pigmap.drawing.strokes import BAND, GHOST_FITS, GHOST_REFUSED, WALKED, WALKED_CLOSING, WALKED_NEXT
from pigmap.drawing.tokens import CASING, MAP_INK, MAP_NO, MAP_PLAN, PLAN_BAND
from pigmap.geometry.posts import posts

_CORNER = Size(12.0, 2.2)
_CASING = Size(1.8, 0.32)
ARM = 0.16
"""Length of an arm of the corner of what may come next, as a share of its side."""


def fitting(
    outline: shapely.Polygon,
    bays_mm: Sequence[int],
    shared: Sequence[NDArray[np.float64]] = (),
    *,
    ground_per_grid: float = 1.0,
) -> tuple[Layer, ...]:
    """Return the ghost of a paddock that fits where it is: the ground under it keeps its colours.

    Parameters
    ----------
    outline
        Its outline in grid metres.
    bays_mm
        Lengths of the bays of its nets from the first post to the last [mm of ground].
    shared
        Sides that it shares with what stands, each (n, 2).
    ground_per_grid
        Ground metres in one grid metre.
    """
    rings = rings_of([outline])
    around = posts(shapely.get_coordinates(outline.exterior), bays_mm, ground_per_grid)
    return (
        Outlines(*rings, closed=True, strokes=(Stroke(PLAN_BAND, BAND),), inside=True),
        Outlines(*rings, closed=True, strokes=(GHOST_FITS,)),
        Marks(around, "dot", POST, MAP_PLAN, smallest_scale=POSTS_FROM_M),
        Marks(rings.points, "dot", _CORNER, MAP_PLAN, CASING, _CASING),
        *both_use(shared, [bays_mm] * len(shared), ground_per_grid=ground_per_grid),
    )


def plain(corners: NDArray[np.float64], *, fits: bool) -> Outlines:
    """Return the outline of a ghost alone, (n, 2), in the colour of one that fits or does not: it is drawn at once."""
    stroke = GHOST_FITS if fits else replace(GHOST_REFUSED, dash=())
    return Outlines(corners, np.array([0, len(corners)]), closed=True, strokes=(stroke,))


def refused(outline: shapely.Polygon, spot: tuple[float, float] | None = None) -> tuple[Layer, ...]:
    """Return the ghost of a paddock that does not fit: red lattice, crosses, a ring at the spot that offends."""
    rings = rings_of([outline])
    hatch = Hatch(MAP_NO, Size(15.0, 2.8), Size(1.8, 0.35), crossed=True)
    made: tuple[Layer, ...] = (
        Outlines(*rings, closed=True, strokes=(GHOST_REFUSED,), fill="#FFFFFF8C", hatch=hatch),
        Marks(rings.points, "cross", Size(13.0, 2.4), MAP_NO, CASING, Size(1.6, 0.3)),
    )
    return made if spot is None else (*made, offending(spot))


def offending(spot: tuple[float, float]) -> Marks:
    """Return the ring round the spot that offends."""
    return Marks(np.array([spot]), "ring", Size(28.0, 5.0), MAP_NO, CASING, Size(2.0, 0.4))


def walked(corners: NDArray[np.float64], pointer: tuple[float, float] | None = None) -> tuple[Layer, ...]:
    """Return an outline that is being clicked: clicked sides solid, the next dashed, the closing one dotted."""
    if not len(corners):
        return ()
    made: list[Layer] = []
    if pointer is not None and len(corners) >= 2:
        made.append(_line([pointer, corners[0]], WALKED_CLOSING))
    if pointer is not None:
        made.append(_line([corners[-1], pointer], WALKED_NEXT))
    if len(corners) >= 2:
        made.append(_line(corners, WALKED))
    return (*made, Marks(np.asarray(corners, dtype=np.float64), "dot", Size(9.2, 1.7), MAP_INK, CASING, _CASING))


def _line(points: Sequence[object] | NDArray[np.float64], stroke: Stroke) -> Outlines:
    return Outlines(*joined([np.array(points, dtype=np.float64)]), closed=False, strokes=(stroke,))


def coming_corners(corners: NDArray[np.float64], far: Sequence[int], *, fits: bool) -> tuple[Layer, ...]:
    """Return the far corners of a paddock that may come next: faint angles, or small crosses where it cannot lie.

    Parameters
    ----------
    corners
        Its corners in order, (n, 2) [grid m].
    far
        Which of them are shown.
    fits
        Whether it could lie there.
    """
    count = len(corners)
    if not fits:
        return (Marks(corners[list(far)], "cross", Size(9.0, 1.7), MAP_NO, CASING, Size(1.2, 0.25)),)
    arms = [_arm(corners, at, step % count) for at in far for step in (at - 1, at + 1)]
    offsets = np.arange(0, 2 * len(arms) + 1, 2)
    return (Outlines(np.concatenate(arms), offsets, closed=False, strokes=(Stroke(MAP_PLAN, Size(1.4, 0.25)),)),)


def _arm(corners: NDArray[np.float64], at: int, to: int) -> NDArray[np.float64]:
    """Return a short line from one corner towards another."""
    return np.stack([corners[at], corners[at] + (corners[to] - corners[at]) * ARM])
