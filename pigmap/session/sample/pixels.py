"""Which pixels of the invented aerial image a shape in ground metres covers."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from pigmap.geometry.native import own_data
from pigmap.session.sample.site import HIGH_M, WIDE_M

PIXEL_M = 0.25
SHAPE = round(HIGH_M / PIXEL_M), round(WIDE_M / PIXEL_M)


def window(shape: BaseGeometry) -> tuple[slice, slice]:
    """Return the rows and columns of the image that a shape reaches."""
    west, south, east, north = shape.bounds
    rows = slice(max(0, int((HIGH_M - north) / PIXEL_M)), min(SHAPE[0], int((HIGH_M - south) / PIXEL_M) + 1))
    return rows, slice(max(0, int(west / PIXEL_M)), min(SHAPE[1], int(east / PIXEL_M) + 1))


def burnt(
    shapes: Sequence[BaseGeometry], rows: slice = slice(0, SHAPE[0]), columns: slice = slice(0, SHAPE[1])
) -> NDArray[np.uint8]:
    """Return which shape lies on each pixel, counted from 1, the later ones above; 0 for none."""
    own_data()
    from rasterio.features import rasterize
    from rasterio.transform import from_origin

    origin = from_origin(columns.start * PIXEL_M, HIGH_M - rows.start * PIXEL_M, PIXEL_M, PIXEL_M)
    size = rows.stop - rows.start, columns.stop - columns.start
    burnt: NDArray[np.uint8] = rasterize(
        [(shape, count) for count, shape in enumerate(shapes, start=1)], out_shape=size, transform=origin, dtype="uint8"
    )
    return burnt
