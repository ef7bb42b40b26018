"""How much of the map a preview covers, so that only that is painted again."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QRect

from pigmap.drawing.layer import Labels, Layer, Marks, Outlines
from pigmap.drawing.view import View

REACH_PX = 16
"""Lines and signs reach no farther from their points than this."""
MOST_PX = 1e6
"""Farther off nothing of it is looked at."""
WORDS_PX = 260
"""Words reach no farther than this."""


def covered(layers: Sequence[Layer], view: View) -> QRect:
    """Return the rectangle of the widget that layers cover, with all their signs and words; null for none."""
    boxes = [_box(points, reach, view) for points, reach in (_points(layer) for layer in layers) if len(points)]
    whole = QRect()
    for box in boxes:
        whole = whole.united(box)
    return whole.intersected(QRect(0, 0, round(view.width) + 1, round(view.height) + 1))


def _points(layer: Layer) -> tuple[NDArray[np.float64], int]:
    if isinstance(layer, (Outlines, Marks)):
        return layer.points, REACH_PX
    if isinstance(layer, Labels):
        return np.array([(label.x_m, label.y_m) for label in layer.labels], dtype=np.float64).reshape(-1, 2), WORDS_PX
    return np.empty((0, 2)), 0


def _box(points: NDArray[np.float64], reach: int, view: View) -> QRect:
    device = view.to_device(points)
    (west, north), (east, south) = device.min(axis=0).tolist(), device.max(axis=0).tolist()
    left, top = math.floor(max(west, -MOST_PX)) - reach, math.floor(max(north, -MOST_PX)) - reach
    right, bottom = math.ceil(min(east, MOST_PX)) + reach, math.ceil(min(south, MOST_PX)) + reach
    return QRect(left, top, right - left, bottom - top)
