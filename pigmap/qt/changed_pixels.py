"""Which pixels of the map change when tinted ground looks other than before."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QRect
from PySide6.QtGui import QRegion

from pigmap.drawing.changed_cells import changed_cells
from pigmap.drawing.layer import Cells, Layer
from pigmap.drawing.tokens import UNKNOWN
from pigmap.drawing.unknown import MARK, unknown_spots
from pigmap.geometry.frame import CellFrame
from pigmap.qt.layer_extent import NOWHERE, extent
from pigmap.qt.pixel_frame import PixelFrame

CLOD_PX = 5.0
"""Clods and colours reach so far beyond their cells at most, in units of the widget."""


def changed_pixels(
    before: Sequence[Layer], after: Sequence[Layer], frame: PixelFrame, kept: QRect, density: float
) -> QRegion:
    """Return the pixels of a frame that look other than before.

    Parameters
    ----------
    before, after
        Tinted ground, field by field.
    frame, kept
        Where pixels lie, and which are kept; marks of unknown ground are looked for among them.
    density
        Pixels in one unit of the widget.
    """
    if len(before) != len(after):
        return _all_of([*before, *after], frame)
    changed = QRegion()
    for old, new in zip(before, after, strict=True):
        if old is not new:
            changed += _between(old, new, frame, kept, density)
    return changed


def _between(old: Layer, new: Layer, frame: PixelFrame, kept: QRect, density: float) -> QRegion:
    if not (isinstance(old, Cells) and isinstance(new, Cells)):
        return _all_of([old, new], frame)
    cells = changed_cells(old, new)
    if cells is None:
        return _all_of([old, new], frame)
    changed = QRegion()
    for rect in _pixels(cells, new.frame, frame, math.ceil(CLOD_PX * density)):
        changed += rect
    for rect in _moved_marks(old, new, frame, kept, density):
        changed += rect
    return changed


def _all_of(layers: Sequence[Layer], frame: PixelFrame) -> QRegion:
    changed = QRect()
    for ground in {extent(layer) for layer in layers} - {NOWHERE}:
        changed = changed.united(frame.pixels(ground).adjusted(-1, -1, 1, 1))
    return QRegion(changed)


def _pixels(cells: NDArray[np.int64], on: CellFrame, frame: PixelFrame, reach: int) -> Iterator[QRect]:
    """Yield the pixels round rectangles of cells, (n, 4), and a reach beyond."""
    if not len(cells):
        return
    corners = on.to_metres(cells[:, [[0, 1], [2, 1], [2, 3], [0, 3]]].reshape(-1, 2).astype(np.float64))
    pixels = (corners - (frame.east_m, frame.north_m)) * (1 / frame.metres_per_pixel, -1 / frame.metres_per_pixel)
    round_each = pixels.reshape(-1, 4, 2)
    low = np.floor(round_each.min(axis=1)).astype(np.int64) - reach
    size = np.ceil(round_each.max(axis=1)).astype(np.int64) + reach - low
    for left, top, wide, high in np.hstack([low, size]).tolist():
        yield QRect(left, top, wide, high)


def _moved_marks(old: Cells, new: Cells, frame: PixelFrame, kept: QRect, density: float) -> Iterator[QRect]:
    """Yield the pixels of marks of unknown ground that come or go; one may hang on ground far from it."""
    if np.array_equal(old.codes == UNKNOWN, new.codes == UNKNOWN):
        return
    view = frame.view(kept, density)
    before, after = ({(x, y) for x, y in unknown_spots(each, view).tolist()} for each in (old, new))
    half = math.ceil(MARK.px * density)
    for x, y in before ^ after:
        middle = kept.topLeft()
        left, top = middle.x() + round(x * density) - half, middle.y() + round(y * density) - half
        yield QRect(left, top, 2 * half, 2 * half)
