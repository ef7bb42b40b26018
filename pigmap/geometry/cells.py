"""Cells of ground: the frame over a field, and the cells whose middle lies inside an outline."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.frame import CellFrame
from pigmap.records import Field

MOST_CELLS = 8_000_000
"""A field that would need more cells gets coarser ones, by a whole factor (assumed: about 1 GB to prepare)."""

_DIGITS = 6  # corners are rounded to a millionth of a cell, so that neighbours agree on the side they share


def frame_over(field: Field) -> CellFrame:
    """Return the frame of cells that covers a field, on the grid that is stored with it.

    Whatever the outline becomes, a cell keeps its place: the frame only takes more or fewer whole rows and columns
    of the stored grid, to either side of its origin.
    """
    stored = CellFrame(field.origin_x_m, field.origin_y_m, field.turned_deg, field.cell_m, 0, 0)
    corners = np.round(stored.to_cells(shapely.get_coordinates(field.outline)), _DIGITS)
    first, last = np.floor(corners.min(axis=0)), np.ceil(corners.max(axis=0))
    times = math.ceil(math.sqrt(max(1.0, float(np.prod(last - first)) / MOST_CELLS)))
    first, last = np.floor(first / times), np.ceil(last / times)
    columns, rows = (int(count) for count in np.maximum(last - first, 1))
    (origin_x, origin_y) = stored.to_metres((first * times)[None, :])[0]
    return CellFrame(float(origin_x), float(origin_y), field.turned_deg, field.cell_m * times, rows, columns)


def inside(frame: CellFrame, outline: BaseGeometry) -> NDArray[np.bool_]:
    """Return which cells have their middle inside an outline, (rows, columns)."""
    found = np.zeros(frame.rows * frame.columns, dtype=np.bool_)
    found[cells_inside(frame, [outline])[0]] = True
    return found.reshape(frame.rows, frame.columns)


def cells_inside(
    frame: CellFrame, outlines: Sequence[BaseGeometry] | NDArray[np.object_]
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return the cells whose middle lies inside each of many outlines.

    Parameters
    ----------
    frame
        The cells; what lies beyond them is left out.
    outlines
        Polygons or multipolygons (n,); other shapes hold no cell.

    Returns
    -------
    cells, starts
        Numbers of the cells (row x columns + column), one outline after the other, and where each begins, (n + 1,).

    Notes
    -----
    Every row of cells is cut by the edges of an outline at the height of its middles; between the first and the
    second cut, the third and the fourth, and so on, lies the inside. A middle exactly on a side belongs to the
    outline on its right or above it, never to both of two neighbours.
    """
    owner, cuts = _cuts(frame, np.asarray(outlines, dtype=np.object_))
    wide = frame.columns + 1
    ordered = np.sort((owner * frame.rows + cuts[0]) * wide + cuts[1])
    line, left = np.divmod(ordered[0::2], wide)
    length = ordered[1::2] % wide - left
    of_outline, row = np.divmod(line, max(frame.rows, 1))
    counts = np.bincount(of_outline, weights=length, minlength=len(outlines)).astype(np.int64)
    starts = np.concatenate(([0], np.cumsum(counts)))
    ends = np.cumsum(length)
    cells = np.repeat(row * frame.columns + left - (ends - length), length) + np.arange(ends[-1] if len(ends) else 0)
    return cells, starts


def _cuts(
    frame: CellFrame, outlines: NDArray[np.object_]
) -> tuple[NDArray[np.int64], tuple[NDArray[np.int64], NDArray[np.int64]]]:
    """Return where edges cut the middles of rows: the outline, and (row, first column right of the cut)."""
    owner, low, high = _edges(frame, outlines)
    first = np.clip(np.ceil(low[:, 1] - 0.5), 0, frame.rows).astype(np.int64)
    last = np.clip(np.ceil(high[:, 1] - 0.5), 0, frame.rows).astype(np.int64)
    times = last - first
    which = np.repeat(np.arange(len(times)), times)
    row = np.arange(len(which)) - np.repeat(np.cumsum(times) - times, times) + first[which]
    rising = np.maximum(high[:, 1] - low[:, 1], 10.0**-_DIGITS)  # a level edge cuts no row
    slope = (high[:, 0] - low[:, 0]) / rising
    across = low[which, 0] + (row + 0.5 - low[which, 1]) * slope[which]
    column = np.clip(np.ceil(across - 0.5), 0, frame.columns).astype(np.int64)
    return owner[which], (row, column)


def _edges(
    frame: CellFrame, outlines: NDArray[np.object_]
) -> tuple[NDArray[np.int64], NDArray[np.float64], NDArray[np.float64]]:
    """Return every edge from its lower to its upper end, as (column, row), and whose it is."""
    parts, of_part = shapely.get_parts(outlines, return_index=True)
    rings, of_ring = shapely.get_rings(parts, return_index=True)
    points, of_point = shapely.get_coordinates(rings, return_index=True)
    corners = np.round(frame.to_cells(points), _DIGITS)
    edge = np.flatnonzero(of_point[1:] == of_point[:-1])
    begin, end = corners[edge], corners[edge + 1]
    upward = (begin[:, 1] <= end[:, 1])[:, None]
    owner = of_part[of_ring[of_point[edge]]].astype(np.int64)
    return owner, np.where(upward, begin, end), np.where(upward, end, begin)
