"""The first picture of an image that is slow to read: coarse, and as much of it as a moment gives."""

from __future__ import annotations

from collections.abc import Callable
from time import perf_counter

import numpy as np
from numpy.typing import NDArray

from pigmap.imagery.pyramid import Bounds
from pigmap.imagery.sidecar_need import FileForm, rows_ns
from pigmap.imagery.sidecar_rows import Readable

FIRST_S = 0.6
"""How long it may take [s]."""
_SIDES = (1024, 512, 256, 128)
"""Longer sides that it may have [px]."""
_SLICE = 16
"""Rows of it that are read at once."""


def first_picture(
    image: Readable, bounds: Bounds, form: FileForm, now: Callable[[], float] = perf_counter
) -> NDArray[np.uint8]:
    """Return a small picture of a whole image, as far as a moment gives it; the rest is transparent.

    Parameters
    ----------
    image
        The image.
    bounds
        All of it.
    form
        How its file is laid out: it says how fine the picture can be.

    Returns
    -------
    NDArray
        Red, green, blue and alpha, (rows, columns, 4).
    """
    until = now() + FIRST_S
    columns, rows = first_size(image, form)
    picture = _coarse(image, bounds, form, (columns, rows))
    west, south, east, north = bounds
    step = (north - south) / rows
    for top in range(0, rows, _SLICE):
        if now() > until:
            break
        end = min(top + _SLICE, rows)
        ground = (west, north - end * step, east, north - top * step)
        picture[top:end] = image.read(ground, (columns, end - top), smooth=False)
    return picture


def _coarse(image: Readable, bounds: Bounds, form: FileForm, size: tuple[int, int]) -> NDArray[np.uint8]:
    """Return a picture of all of it in few rows, drawn out to its size; an empty one where even that takes long."""
    columns, rows = size
    few = max(1, rows * _SIDES[-1] // max(size))
    if few == rows or rows_ns(form, few) > FIRST_S * 1e9 / 3:
        return np.zeros((rows, columns, 4), dtype=np.uint8)
    return image.read(bounds, (columns, few), smooth=False)[np.arange(rows) * few // rows]


def first_size(image: Readable, form: FileForm) -> tuple[int, int]:
    """Return columns and rows of the picture: the most that can be read in time."""
    longer = max(image.pyramid.columns, image.pyramid.rows)
    sizes = [_size(image, min(1.0, side / longer)) for side in _SIDES]
    in_time = (size for size in sizes if rows_ns(form, size[1]) <= FIRST_S * 1e9)
    return next(in_time, sizes[-1])


def _size(image: Readable, share: float) -> tuple[int, int]:
    return max(1, round(image.pyramid.columns * share)), max(1, round(image.pyramid.rows * share))
