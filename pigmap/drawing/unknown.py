"""The sign of unknown ground: where its question marks stand, few and small, so that they read as a texture."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.layer import Cells, Size
from pigmap.drawing.tokens import UNKNOWN
from pigmap.drawing.view import View

ACROSS, DOWN = Size(56.0, 10.5), Size(40.0, 7.5)
"""From one mark to the next in a row, and from row to row; every other row is shifted by half."""
MARK = Size(13.0, 2.6)
"""Height of the type of a mark."""
_CLEAR = 0.5
"""A mark keeps off other ground by this share of its height."""


def unknown_spots(cells: Cells, view: View) -> NDArray[np.float64]:
    """Return the middles of the marks over cells, in device units of a view, (n, 2).

    They lie still on the ground at one scale; a closer look shows finer ground, never larger marks.
    """
    box = _box(cells, view)
    if box is None:
        return np.empty((0, 2))
    spots = _lattice(box, view)
    off = view.size(*MARK) * _CLEAR
    shown = np.ones(len(spots), dtype=np.bool_)
    for east, north in ((0.0, 0.0), (off, off), (off, -off), (-off, off), (-off, -off)):
        shown &= _is_unknown(cells, view, spots + np.array([east, north]))
    found: NDArray[np.float64] = spots[shown]
    return found


def _box(cells: Cells, view: View) -> tuple[float, float, float, float] | None:
    """Return left, top, right and bottom of the cells that are in view, with room for a mark at the edge."""
    frame = cells.frame
    corners = np.array([[0, 0], [frame.columns, 0], [frame.columns, frame.rows], [0, frame.rows]], dtype=np.float64)
    device = view.to_device(frame.to_metres(corners))
    margin = view.size(*MARK)
    left, top = np.maximum(device.min(axis=0), -margin)
    right, bottom = np.minimum(device.max(axis=0), (view.width + margin, view.height + margin))
    return (float(left), float(top), float(right), float(bottom)) if right > left and bottom > top else None


def _lattice(box: tuple[float, float, float, float], view: View) -> NDArray[np.float64]:
    across, down = view.size(*ACROSS), view.size(*DOWN)
    left, top, right, bottom = box
    anchor_x, anchor_y = view.to_device(np.zeros((1, 2)))[0]
    rows = np.arange(np.ceil((top - anchor_y) / down), np.floor((bottom - anchor_y) / down) + 1)
    columns = np.arange(np.ceil((left - anchor_x) / across) - 1, np.floor((right - anchor_x) / across) + 1)
    x = anchor_x + (columns[None, :] + np.mod(rows, 2)[:, None] / 2) * across
    y = np.broadcast_to((anchor_y + rows * down)[:, None], x.shape)
    return np.stack((x.ravel(), y.ravel()), axis=1)


def _is_unknown(cells: Cells, view: View, spots: NDArray[np.float64]) -> NDArray[np.bool_]:
    frame = cells.frame
    scale = view.metres_per_unit
    ground = (spots - (view.width / 2, view.height / 2)) * (scale, -scale) + (view.centre_x_m, view.centre_y_m)
    where = np.floor(frame.to_cells(ground)).astype(np.int64)
    column, row = where[:, 0], where[:, 1]
    inside: NDArray[np.bool_] = (column >= 0) & (row >= 0) & (column < frame.columns) & (row < frame.rows)
    inside[inside] = cells.codes[row[inside], column[inside]] == UNKNOWN
    return inside
