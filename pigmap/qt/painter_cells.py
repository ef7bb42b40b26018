"""Paint tinted ground: cells as a picture turned to their frame, clods over it."""

from __future__ import annotations

from functools import lru_cache
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QImage, QPainter, QPainterPath, QTransform

from pigmap.drawing.in_view import cells_in_view
from pigmap.drawing.layer import Cells, Tiles
from pigmap.drawing.output import TileReader
from pigmap.drawing.photo import pressed as fine_structure
from pigmap.drawing.rings import Rings, joined
from pigmap.drawing.view import View
from pigmap.qt.painter_clods import paint_clods
from pigmap.qt.painter_paths import density, path_of
from pigmap.qt.painter_tiles import read_photo
from pigmap.qt.painter_unknown import paint_unknown

PRESSED_SIGMA_PX = 22.0
PRESSED_OPACITY = 0.8


def paint_cells(
    layer: Cells,
    painter: QPainter,
    view: View,
    *,
    pressed: TileReader | None = None,
    photo: Tiles | None = None,
    dark: bool = False,
) -> None:
    """Paint the tinted ground of one field, with its clods and the sign of unknown ground."""
    paint_ground(layer, painter, view)
    if pressed is not None and photo is not None:
        _press(layer, painter, view, pressed, photo)
    paint_clods(layer, painter, view)
    paint_unknown(layer, painter, view, dark=dark)


def paint_ground(layer: Cells, painter: QPainter, view: View) -> None:
    """Paint the colours of the ground of one field, without clods."""
    seen = cells_in_view(layer.frame, view)
    if seen is None:
        return
    # With a colour table the painter looks up the colours of the pixels that it paints, and no others.
    codes = np.ascontiguousarray(layer.codes[seen])
    image = QImage(
        cast("Any", codes.data), codes.shape[1], codes.shape[0], codes.shape[1], QImage.Format.Format_Indexed8
    )
    image.setColorTable(_table(layer.colours.tobytes()))
    painter.save()
    clip = _outline(layer, view)
    if clip is not None:
        painter.setClipPath(clip, Qt.ClipOperation.IntersectClip)
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, False)
    painter.setRenderHint(QPainter.RenderHint.LosslessImageRendering)
    painter.setTransform(to_device(layer, view), True)
    rows, columns = seen
    painter.drawImage(QRectF(columns.start, rows.start, codes.shape[1], codes.shape[0]), image)
    painter.restore()


def to_device(layer: Cells, view: View) -> QTransform:
    """Return the transform from (column, row) to device units."""
    origin, across, up = view.to_device(layer.frame.to_metres(np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]])))
    (m11, m12), (m21, m22) = across - origin, up - origin
    return QTransform(m11, m12, m21, m22, origin[0], origin[1])


@lru_cache(maxsize=16)
def _table(told: bytes) -> list[int]:
    """Return the colour table as alpha, red, green, blue in one number each, (256,)."""
    colours = np.frombuffer(told, dtype=np.uint8).reshape(-1, 4).astype(np.uint32)
    red, green, blue, alpha = colours.T
    table: list[int] = (alpha << 24 | red << 16 | green << 8 | blue).tolist()
    return table


def _outline(layer: Cells, view: View) -> QPainterPath | None:
    return None if layer.outline is None else _path(_Same(layer.outline), view)


class _Same:
    """An array as a key: equal to itself alone, and never written to."""

    def __init__(self, array: NDArray[np.float64]) -> None:
        self.array = array

    def __hash__(self) -> int:
        return id(self.array)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.array is self.array


@lru_cache(maxsize=64)
def _path(outline: _Same, view: View) -> QPainterPath:
    """Return what a layer is clipped to; kept, since every day that is shown asks for it in the same view."""
    points, starts = _rings(outline)
    return path_of(Rings(view.to_device(points), starts), closed=True)


@lru_cache(maxsize=64)
def _rings(outline: _Same) -> Rings:
    parts = np.split(outline.array, np.flatnonzero(np.isnan(outline.array[:, 0])))
    return joined(part[~np.isnan(part[:, 0])] for part in parts)


def _press(layer: Cells, painter: QPainter, view: View, images: TileReader, photo: Tiles) -> None:
    """Lay the photo's fine structure over the cells: it keeps their mean colour."""
    pixels = read_photo(photo.image_uid, painter, view, images)
    if pixels is None:
        return
    grey = fine_structure(pixels, PRESSED_SIGMA_PX * density(painter) * view.size(1.0, 0.21))
    rows, columns = grey.shape
    solid = np.repeat(grey[..., None], 4, axis=2)
    solid[..., 3] = 255
    image = QImage(cast("Any", solid.data), columns, rows, 4 * columns, QImage.Format.Format_RGBA8888)
    image = image.convertToFormat(QImage.Format.Format_ARGB32_Premultiplied)
    with QPainter(image) as only_cells:
        only_cells.setCompositionMode(QPainter.CompositionMode.CompositionMode_DestinationIn)
        mask = QImage(image.size(), image.format())
        mask.fill(Qt.GlobalColor.transparent)
        with QPainter(mask) as on_mask:
            on_mask.scale(columns / view.width, rows / view.height)
            paint_ground(layer, on_mask, view)
        only_cells.drawImage(0, 0, mask)
    painter.save()
    painter.setOpacity(PRESSED_OPACITY)
    painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_SoftLight)
    painter.drawImage(QRectF(0, 0, view.width, view.height), image)
    painter.restore()
