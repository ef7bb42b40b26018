"""Smooth random fields for the invented aerial image."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Picture = NDArray[np.float32]


def smooth(rng: np.random.Generator, shape: tuple[int, int], size: int) -> Picture:
    """Return a random field with spots of about `size` pixels, mean 0 and spread about 1, (rows, columns)."""
    step = max(1, size // 2)
    small = rng.standard_normal(coarse(shape, step), dtype=np.float32)
    for _ in range(2):
        small = _blurred(small)
    small /= small.std()
    return enlarged(small, step, shape)


def coarse(shape: tuple[int, int], step: int) -> tuple[int, int]:
    """Return the shape of a field that `enlarged` makes `step` times as large."""
    return -(-shape[0] // step) + 2, -(-shape[1] // step) + 2


def enlarged(small: Picture, step: int, shape: tuple[int, int]) -> Picture:
    """Return a field `step` times as large, straight lines between the values, cut to a shape."""
    first, share = _between(step, shape[1])
    wide: Picture = small[:, first] * (1 - share) + small[:, first + 1] * share
    first, share = _between(step, shape[0])
    out: Picture = wide[first]
    out += (wide[first + 1] - out) * share[:, None]
    return out


def _between(step: int, length: int) -> tuple[NDArray[np.int64], Picture]:
    """Return before which value each pixel lies after, and how far on to the next one."""
    at = (np.arange(length, dtype=np.float32) + 0.5) / step
    first = at.astype(np.int64)
    return first, (at - first).astype(np.float32)


def _blurred(field: Picture) -> Picture:
    """Return the field with each value mixed with its neighbours, of the same shape."""
    out: Picture = field.copy()
    out[1:-1] = (field[:-2] + 2 * field[1:-1] + field[2:]) / 4
    across: Picture = out.copy()
    across[:, 1:-1] = (out[:, :-2] + 2 * out[:, 1:-1] + out[:, 2:]) / 4
    return across
