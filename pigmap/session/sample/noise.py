"""Smooth random fields for the invented aerial image."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Picture = NDArray[np.float32]


def smooth(rng: np.random.Generator, shape: tuple[int, int], size: int) -> Picture:
    """Return a random field with spots of about `size` pixels, mean 0 and spread about 1, (rows, columns)."""
    step = max(1, size // 2)
    rows, columns = -(-shape[0] // step) + 3, -(-shape[1] // step) + 3
    small = rng.standard_normal((rows, columns), dtype=np.float32)
    for _ in range(2):
        small = _blurred(small)
    small /= small.std()
    return _enlarged(small, step, shape)


def _blurred(field: Picture) -> Picture:
    """Return the field with each value mixed with its neighbours, of the same shape."""
    out: Picture = field.copy()
    out[1:-1] = (field[:-2] + 2 * field[1:-1] + field[2:]) / 4
    across: Picture = out.copy()
    across[:, 1:-1] = (out[:, :-2] + 2 * out[:, 1:-1] + out[:, 2:]) / 4
    return across


def _enlarged(small: Picture, step: int, shape: tuple[int, int]) -> Picture:
    """Return a field `step` times as large, straight lines between the values, cut to a shape."""
    return _stretched(_stretched(small, step, shape[0]).T, step, shape[1]).T


def _stretched(field: Picture, step: int, length: int) -> Picture:
    at = (np.arange(length, dtype=np.float32) + 0.5) / step
    first = at.astype(np.int64)
    share = (at - first).astype(np.float32)[:, None]
    out: Picture = field[first] * (1 - share) + field[first + 1] * share
    return out
