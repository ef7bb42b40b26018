"""Clods: where rooted ground gets its dots, and how large they are."""

from __future__ import annotations

import json
from functools import cache, lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.in_view import cells_in_view
from pigmap.drawing.layer import Cells
from pigmap.drawing.tokens import CLOD_SIZES, UNKNOWN
from pigmap.drawing.view import View
from pigmap.geometry.frame import CellFrame
from pigmap.paths import resource

ASPECT = 1.25
"""Long over short half-axis of a clod, with the area of the circle of its radius."""


class Clods(NamedTuple):
    """Clods of one class of rooting in device units of a view."""

    spots: NDArray[np.float64]
    """Where they are, (n, 2)."""
    turned_deg: NDArray[np.float64]
    seen: NDArray[np.bool_]
    radius: float


class _Torus(NamedTuple):
    side_px: float
    clods: tuple[NDArray[np.float64], ...]


@cache
def _torus() -> _Torus:
    saved = json.loads(resource("ramps", "clods.json").read_text(encoding="utf-8"))
    return _Torus(saved["side_px"], tuple(np.array(each, dtype=np.float64).reshape(-1, 3) for each in saved["clods"]))


PATCH = 16
"""Side of the patches of a view in which clods can be asked for [device units]."""


def patches(view: View) -> NDArray[np.bool_]:
    """Return a view's patches, none of them chosen, (rows, columns); those at its edges take in what lies beside it."""
    return np.zeros((_patches(view.height), _patches(view.width)), dtype=np.bool_)


def _patches(length: float) -> int:
    return int(length // PATCH) + 1


def clods_in(cells: Cells, view: View, within: NDArray[np.bool_] | None = None) -> dict[int, Clods]:
    """Return the clods to draw over cells, by class of rooting.

    The pattern lies still on the ground at one scale, and keeps its size at every scale: it is finer ground, never
    larger dots, that a closer look shows.

    Parameters
    ----------
    cells, view
        The ground, and which of it lies where.
    within
        Patches of the view in which they are wanted (`patches`); None for all of it.
    """
    if cells.clods is None:
        return {}
    seen = cells_in_view(cells.frame, view)
    if seen is None:
        return {}
    there = cells.clods[seen].tobytes()  # bytes are searched ten times as fast as an array
    found = {each: _of_class(cells, view, each, within) for each in range(1, len(CLOD_SIZES)) if each in there}
    return {each: clods for each, clods in found.items() if len(clods.spots)}


def _of_class(cells: Cells, view: View, each: int, within: NDArray[np.bool_] | None) -> Clods:
    thrown = _thrown(cells.frame, view, each)
    assert cells.clods is not None
    if within is None:
        rooted = np.flatnonzero(cells.clods.ravel().take(thrown.cell) == each)
    else:
        near = np.flatnonzero(within.ravel().take(thrown.patch))
        rooted = near[cells.clods.ravel().take(thrown.cell[near]) == each]
    where = thrown.cell[rooted]
    known = cells.codes.ravel().take(where) < UNKNOWN
    rooted, where = rooted[known], where[known]
    seen = np.zeros(len(where), dtype=np.bool_) if cells.seen is None else cells.seen.ravel().take(where)
    size = CLOD_SIZES[each]
    return Clods(thrown.spots[rooted], thrown.turned_deg[rooted], seen, view.size(size.radius_px, size.radius_mm))


class _Thrown(NamedTuple):
    """All clods of one class that could lie on a frame: where, how turned, on which cell, and in which patch."""

    spots: NDArray[np.float64]
    turned_deg: NDArray[np.float64]
    cell: NDArray[np.int64]
    patch: NDArray[np.int64]
    """Number of the view's patch in which each lies."""


@lru_cache(maxsize=48)
def _thrown(frame: CellFrame, view: View, each: int) -> _Thrown:
    """Return clods over a frame; kept, since from day to day only which of them show changes."""
    box = _box_in_view(frame, view)
    if box is None:
        nowhere = np.empty(0, dtype=np.int64)
        return _Thrown(np.empty((0, 2)), np.empty(0), nowhere, nowhere)
    size = CLOD_SIZES[each]
    unit = size.spacing_mm / size.spacing_px if view.paper else 1.0
    spots, turned = _thrown_over(box, view, each, unit)
    where = np.floor(frame.to_cells(_to_ground(spots, view))).astype(np.int64)
    columns, rows = where[:, 0], where[:, 1]
    inside = (columns >= 0) & (rows >= 0) & (columns < frame.columns) & (rows < frame.rows)
    cell = rows[inside] * frame.columns + columns[inside]
    return _Thrown(spots[inside], turned[inside], cell, _patch_of(spots[inside], view))


def _patch_of(spots: NDArray[np.float64], view: View) -> NDArray[np.int64]:
    down, across = _patches(view.height), _patches(view.width)
    column, row = (spots // PATCH).astype(np.int64).T
    number: NDArray[np.int64] = np.clip(row, 0, down - 1) * across + np.clip(column, 0, across - 1)
    return number


def _thrown_over(
    box: tuple[float, float, float, float], view: View, each: int, unit: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    torus = _torus()
    side = torus.side_px * unit
    anchor_x, anchor_y = view.to_device(np.zeros((1, 2)))[0] % side
    left, top, right, bottom = box
    across = np.arange(np.floor((left - anchor_x) / side), np.ceil((right - anchor_x) / side)) * side + anchor_x
    down = np.arange(np.floor((top - anchor_y) / side), np.ceil((bottom - anchor_y) / side)) * side + anchor_y
    corners = np.stack(np.meshgrid(across, down), axis=-1).reshape(-1, 1, 2)
    clods = torus.clods[each]
    spots = (corners + clods[None, :, :2] * unit).reshape(-1, 2)
    turned = np.tile(clods[:, 2], len(corners))
    kept = (spots[:, 0] >= left) & (spots[:, 0] < right) & (spots[:, 1] >= top) & (spots[:, 1] < bottom)
    return spots[kept], turned[kept]


def _to_ground(spots: NDArray[np.float64], view: View) -> NDArray[np.float64]:
    scale = view.metres_per_unit
    shifted = (spots - (view.width / 2, view.height / 2)) * (scale, -scale)
    ground: NDArray[np.float64] = shifted + np.array([view.centre_x_m, view.centre_y_m])
    return ground


def _box_in_view(frame: CellFrame, view: View) -> tuple[float, float, float, float] | None:
    corners = np.array([[0, 0], [frame.columns, 0], [frame.columns, frame.rows], [0, frame.rows]], dtype=np.float64)
    device = view.to_device(frame.to_metres(corners))
    margin = 3.0
    left, top = np.maximum(device.min(axis=0), -margin)
    right, bottom = np.minimum(device.max(axis=0), (view.width + margin, view.height + margin))
    return (float(left), float(top), float(right), float(bottom)) if right > left and bottom > top else None
