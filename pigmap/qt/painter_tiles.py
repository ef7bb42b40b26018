"""Paint the photo."""

from __future__ import annotations

from typing import Any, cast

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter

from pigmap.drawing.layer import Tiles
from pigmap.drawing.output import TileReader
from pigmap.drawing.photo import toned
from pigmap.drawing.view import View
from pigmap.qt.painter_paths import density, is_vector

PRINT_PER_MM = 300 / 25.4
"""Pixels of a photo on a millimetre of paper: 300 to the inch."""


def paint_tiles(layer: Tiles, painter: QPainter, view: View, images: TileReader | None) -> None:
    """Paint the photo over the whole view, sharp on the device."""
    pixels = read_photo(layer.image_uid, painter, view, images)
    if pixels is None:
        return
    made = toned(pixels, layer)
    image = image_of(made) if (made[..., 3] < 255).any() else image_of(made).convertToFormat(QImage.Format.Format_RGB32)
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    painter.setOpacity(layer.opacity)
    painter.drawImage(QRectF(0, 0, view.width, view.height), image)


def read_photo(image_uid: str, painter: QPainter, view: View, images: TileReader | None) -> NDArray[np.uint8] | None:
    """Return the photo under the view in pixels of the device (of paper at 300 to the inch), (rows, columns, 4)."""
    if images is None:
        return None
    fine = PRINT_PER_MM if view.paper and is_vector(painter) else density(painter)
    size = max(1, round(view.width * fine)), max(1, round(view.height * fine))
    return cast("NDArray[np.uint8] | None", images(image_uid, view.bounds, size))


def image_of(pixels: NDArray[np.uint8]) -> QImage:
    """Return pixels (rows, columns, 4) of red, green, blue, alpha as an image with pixels of its own."""
    rows, columns = pixels.shape[:2]
    packed = np.ascontiguousarray(pixels)
    image = QImage(cast("Any", packed.data), columns, rows, 4 * columns, QImage.Format.Format_RGBA8888)
    return image.copy()
