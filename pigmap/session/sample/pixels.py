"""Which pixels of the invented aerial image a shape in ground metres covers."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.native import own_data
from pigmap.session.sample.site import EAST_M, NORTH_M, SOUTH_M, WEST_M

PIXEL_M = 0.2
SHAPE = round((NORTH_M - SOUTH_M) / PIXEL_M), round((EAST_M - WEST_M) / PIXEL_M)


def pixel(east: float, north: float) -> tuple[float, float]:
    """Return row and column of a point, counted from the upper left corner of the image."""
    return (NORTH_M - north) / PIXEL_M, (east - WEST_M) / PIXEL_M


def middles(rows: slice, columns: slice) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Return how far north the middles of rows lie, and how far east those of columns [m]."""
    down = np.arange(rows.start, rows.stop, dtype=np.float32) + np.float32(0.5)
    right = np.arange(columns.start, columns.stop, dtype=np.float32) + np.float32(0.5)
    return NORTH_M - down * np.float32(PIXEL_M), right * np.float32(PIXEL_M) + WEST_M


def window(shape: BaseGeometry) -> tuple[slice, slice]:
    """Return the rows and columns of the image that a shape reaches."""
    west, south, east, north = shape.bounds
    (top, left), (bottom, right) = pixel(west, north), pixel(east, south)
    rows = slice(max(0, int(top)), min(SHAPE[0], int(bottom) + 1))
    return rows, slice(max(0, int(left)), min(SHAPE[1], int(right) + 1))


def burnt(
    shapes: Sequence[BaseGeometry], rows: slice = slice(0, SHAPE[0]), columns: slice = slice(0, SHAPE[1])
) -> NDArray[np.uint8]:
    """Return which shape lies on each pixel, counted from 1, the later ones above; 0 for none."""
    own_data()
    from rasterio.features import rasterize
    from rasterio.transform import from_origin

    origin = from_origin(WEST_M + columns.start * PIXEL_M, NORTH_M - rows.start * PIXEL_M, PIXEL_M, PIXEL_M)
    size = rows.stop - rows.start, columns.stop - columns.start
    burnt: NDArray[np.uint8] = rasterize(
        [(shape, count) for count, shape in enumerate(shapes, start=1)], out_shape=size, transform=origin, dtype="uint8"
    )
    return burnt
