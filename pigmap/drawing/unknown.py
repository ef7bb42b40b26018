"""The sign of unknown ground: where its question marks stand, few and small, so that they read as a texture."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.layer import Cells, Size
from pigmap.drawing.tokens import UNKNOWN
from pigmap.drawing.view import View

ACROSS, DOWN = Size(56.0, 10.5), Size(40.0, 7.5)
"""From one point of the lattice to the next in a row, and from row to row; every other row is shifted by half."""
MARK = Size(13.0, 2.6)
"""Height of the type of a mark."""
_CLEAR = 0.5
"""A mark keeps off other ground by this share of its height."""


def unknown_spots(cells: Cells, view: View) -> NDArray[np.float64]:
    """Return the middles of the marks over cells, in device units of a view, (n, 2).

    They lie still on the ground at one scale; a closer look shows finer ground, never larger marks. Wide ground has
    one mark of four of the lattice; where none of these falls, as in a narrow strip, the others stand in.
    """
    box = _box(cells, view)
    if box is None:
        return np.empty((0, 2))
    rows, columns, spots = _lattice(box, view)
    off = view.size(*MARK) * _CLEAR
    free = np.ones(spots.shape[:2], dtype=np.bool_)
    for east, north in ((0.0, 0.0), (off, off), (off, -off), (-off, off), (-off, -off)):
        free &= _is_unknown(cells, view, (spots + np.array([east, north])).reshape(-1, 2)).reshape(free.shape)
    wide = _is_wide(rows, columns)
    shown = free & (wide | ~_near(free & wide))
    found: NDArray[np.float64] = spots[shown]
    margin = view.size(*MARK)
    inside = (found > -margin).all(axis=1) & (found < (view.width + margin, view.height + margin)).all(axis=1)
    return found[inside]


def _is_wide(rows: NDArray[np.float64], columns: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Return which points of the lattice are of the wider one: every other of every other row, shifted in turn."""
    row, column = np.mod(rows, 4)[:, None], np.mod(columns, 2)[None, :]
    found: NDArray[np.bool_] = ((row == 0) & (column == 0)) | ((row == 2) & (column == 1))
    return found


def _near(marks: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Return which points have a mark within two rows and one place to a side: of the wider lattice some always are."""
    high, across = marks.shape
    padded = np.pad(marks, ((2, 2), (1, 1)))
    found = np.zeros_like(marks)
    for row in range(5):
        for column in range(3):
            found |= padded[row : row + high, column : column + across]
    return found


def _box(cells: Cells, view: View) -> tuple[float, float, float, float] | None:
    """Return left, top, right and bottom of the cells that are in view, with room for what a mark there hangs on."""
    frame = cells.frame
    corners = np.array([[0, 0], [frame.columns, 0], [frame.columns, frame.rows], [0, frame.rows]], dtype=np.float64)
    device = view.to_device(frame.to_metres(corners))
    beyond = np.array([2 * view.size(*ACROSS), 3 * view.size(*DOWN)])
    left, top = np.maximum(device.min(axis=0), -beyond)
    right, bottom = np.minimum(device.max(axis=0), np.array([view.width, view.height]) + beyond)
    return (float(left), float(top), float(right), float(bottom)) if right > left and bottom > top else None


def _lattice(
    box: tuple[float, float, float, float], view: View
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return the numbers of rows and columns of the lattice in a box, and its points, (rows, columns, 2)."""
    across, down = view.size(*ACROSS), view.size(*DOWN)
    left, top, right, bottom = box
    anchor_x, anchor_y = view.to_device(np.zeros((1, 2)))[0]
    rows = np.arange(np.ceil((top - anchor_y) / down), np.floor((bottom - anchor_y) / down) + 1)
    columns = np.arange(np.ceil((left - anchor_x) / across) - 1, np.floor((right - anchor_x) / across) + 1)
    x = anchor_x + (columns[None, :] + np.mod(rows, 2)[:, None] / 2) * across
    y = np.broadcast_to((anchor_y + rows * down)[:, None], x.shape)
    return rows, columns, np.stack((x, y), axis=2)


def _is_unknown(cells: Cells, view: View, spots: NDArray[np.float64]) -> NDArray[np.bool_]:
    frame = cells.frame
    scale = view.metres_per_unit
    ground = (spots - (view.width / 2, view.height / 2)) * (scale, -scale) + (view.centre_x_m, view.centre_y_m)
    where = np.floor(frame.to_cells(ground)).astype(np.int64)
    column, row = where[:, 0], where[:, 1]
    inside: NDArray[np.bool_] = (column >= 0) & (row >= 0) & (column < frame.columns) & (row < frame.rows)
    inside[inside] = cells.codes[row[inside], column[inside]] == UNKNOWN
    return inside
