"""The sign of unknown ground: where its question marks stand, few and small, so that they read as a texture."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pigmap.drawing.in_view import cells_in_view
from pigmap.drawing.layer import Cells, Size
from pigmap.drawing.tokens import UNKNOWN
from pigmap.drawing.view import View
from pigmap.geometry.frame import CellFrame

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
    laid = _laid(cells.frame, view) if _is_there(cells, view) else None
    if laid is None:
        return np.empty((0, 2))
    free = ((cells.codes.ravel().take(laid.cells, mode="clip") == UNKNOWN) & (laid.cells >= 0)).all(axis=0)
    if not free.any():
        return np.empty((0, 2))
    shown = free & (laid.wide | ~_near(free & laid.wide)) & laid.in_view
    found: NDArray[np.float64] = laid.spots[shown]
    return found


def _is_there(cells: Cells, view: View) -> bool:
    """Whether there is unknown ground in view, or so near that its marks reach into it."""
    reach = 4 * view.size(*MARK)
    seen = cells_in_view(cells.frame, replace(view, width=view.width + reach, height=view.height + reach))
    return seen is not None and UNKNOWN in cells.codes[seen].tobytes()  # ten times as fast as a comparison of each


class _Laid(NamedTuple):
    """The lattice over a frame in a view, (rows, columns): it is the same from day to day."""

    spots: NDArray[np.float64]
    """Its points in device units, (rows, columns, 2)."""
    cells: NDArray[np.int64]
    """Cell under each point and under the four corners round it, (5, rows, columns); -1 beside the frame."""
    wide: NDArray[np.bool_]
    in_view: NDArray[np.bool_]


@lru_cache(maxsize=32)
def _laid(frame: CellFrame, view: View) -> _Laid | None:
    box = _box(frame, view)
    if box is None:
        return None
    rows, columns, spots = _lattice(box, view)
    off = view.size(*MARK) * _CLEAR
    corners = np.array([(0.0, 0.0), (off, off), (off, -off), (-off, off), (-off, -off)])
    under = _cells_under(frame, view, (spots[None] + corners[:, None, None, :]).reshape(-1, 2))
    margin = view.size(*MARK)
    between = (spots > -margin) & (spots < np.array([view.width, view.height]) + margin)
    in_view: NDArray[np.bool_] = between[..., 0] & between[..., 1]
    cells = under.reshape(len(corners), *spots.shape[:2])
    return _Laid(spots, cells, _is_wide(rows, columns), in_view)


def _is_wide(rows: NDArray[np.float64], columns: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Return which points of the lattice are of the wider one: every other of every other row, shifted in turn."""
    row, column = np.mod(rows, 4)[:, None], np.mod(columns, 2)[None, :]
    found: NDArray[np.bool_] = ((row == 0) & (column == 0)) | ((row == 2) & (column == 1))
    return found


def _near(marks: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Return which points have a mark within two rows and one place to a side: of the wider lattice some always are."""
    high, across = marks.shape
    framed = np.zeros((high + 4, across + 2), dtype=np.bool_)
    framed[2:-2, 1:-1] = marks
    beside = framed[:, :-2] | framed[:, 1:-1] | framed[:, 2:]
    found: NDArray[np.bool_] = np.logical_or.reduce([beside[row : row + high] for row in range(5)])
    return found


def _box(frame: CellFrame, view: View) -> tuple[float, float, float, float] | None:
    """Return left, top, right and bottom of the cells that are in view, with room for what a mark there hangs on."""
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


def _cells_under(frame: CellFrame, view: View, spots: NDArray[np.float64]) -> NDArray[np.int64]:
    """Return the number of the cell under each spot, (n,); -1 beside the frame."""
    scale = view.metres_per_unit
    ground = (spots - (view.width / 2, view.height / 2)) * (scale, -scale) + (view.centre_x_m, view.centre_y_m)
    where = np.floor(frame.to_cells(ground)).astype(np.int64)
    column, row = where[:, 0], where[:, 1]
    inside = (column >= 0) & (row >= 0) & (column < frame.columns) & (row < frame.rows)
    return np.where(inside, row * frame.columns + column, -1)
