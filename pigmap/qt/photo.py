"""The photo sheet: aerial images from tiles, with what is coarser in their place until they are read."""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from time import monotonic
from typing import Protocol

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPoint, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QImage, QPainter

from pigmap.drawing.layer import Tiles
from pigmap.imagery.pyramid import Bounds, Pyramid, Spot
from pigmap.imagery.unread import AGAIN_S, TileLaterError
from pigmap.qt.photo_holes import hatch_unread
from pigmap.qt.pixel_frame import PixelFrame
from pigmap.qt.small_picture import Small, none
from pigmap.qt.tiles import TileCache, TileKey, to_picture


class TileSource(Protocol):
    """An image cut into tiles: what this sheet needs of a reader."""

    @property
    def bounds(self) -> Bounds:
        """Ground it covers: west, south, east, north [m]."""
        ...

    @property
    def pyramid(self) -> Pyramid:
        """How it is cut."""
        ...

    @property
    def bgra(self) -> bool:
        """Whether its tiles are blue, green, red, alpha as a screen draws them; else red, green, blue, alpha."""
        ...

    def tile(self, level: int, column: int, row: int) -> NDArray[np.uint8]:
        """Return a tile as (rows, columns, 4); transparent beyond the image's edge."""
        ...


@dataclass
class Photo:
    """One image of the farm: a small picture of all of it at once, and a reader that is opened by a worker."""

    open: Callable[[], TileSource]
    overview: Small = none
    overview_bounds: Bounds | None = None
    source: TileSource | None = None
    failed: bool = False
    _opening: threading.Lock = field(default_factory=threading.Lock)

    def opened(self) -> TileSource | None:
        """Return the reader, opened by whoever asks first; None where it cannot be. For workers."""
        with self._opening:
            if self.source is None and not self.failed:
                try:
                    self.source = self.open()
                except TileLaterError:
                    raise
                except Exception:
                    self.failed = True
                    raise
            return self.source


OPENING = -1
"""Level of the key that only asks a worker to open the image."""


class PhotoSheet:
    """Paints the images under everything else, and knows which tiles it still wants.

    Parameters
    ----------
    cache
        Tiles that were read.
    """

    def __init__(self, cache: TileCache) -> None:
        self.cache = cache
        self.photos: Mapping[str, Photo] = {}
        self.layers: Sequence[Tiles] = ()
        self._bare: set[TileKey] = set()
        self._late: dict[TileKey, float] = {}
        """When to ask again for tiles whose server or file gives nothing now."""

    def read(self, key: TileKey) -> QImage | None:
        """Read a tile; called by workers."""
        photo = self.photos.get(key.image_uid)
        try:
            source = photo.opened() if photo is not None else None
            reads = source if key.level != OPENING else None
            pixels = reads.tile(key.level, key.column, key.row) if reads is not None else None
        except TileLaterError:
            self._late[key] = monotonic() + AGAIN_S
            return None
        if self.photos.get(key.image_uid) is not photo:  # another file stands there by now, or it is shown otherwise
            self._late[key] = monotonic()
            return None
        if source is None or pixels is None:
            self._late.pop(key, None)
            return None
        return to_picture(pixels, bgra=source.bgra)

    def take(self, key: TileKey, tile: QImage | None) -> None:
        """Keep a tile that was read, or remember that there is nothing."""
        if tile is not None:
            self._late.pop(key, None)
            self.cache.put(key, tile)
        elif key not in self._late:
            self._bare.add(key)

    @property
    def again_in_s(self) -> float | None:
        """When to ask again for tiles that were not to be had [s]; None where there are none."""
        return max(0.0, min(self._late.values()) - monotonic()) if self._late else None

    def ask_again(self, image_uid: str) -> None:
        """Forget which tiles of an image were not there: there may be more of them now."""
        self._bare = {key for key in self._bare if key.image_uid != image_uid}
        for key in [key for key in self._late if key.image_uid == image_uid]:
            self._late.pop(key, None)

    def forget(self, image_uid: str) -> None:
        """Forget all tiles of an image: there are better ones."""
        self.ask_again(image_uid)
        self.cache.drop_image(image_uid)

    def wanted(self, frame: PixelFrame, areas: Sequence[QRect]) -> list[TileKey]:
        """Return the tiles that are missing in some areas, those near the middle of the first area first."""
        keys: dict[TileKey, None] = {}
        for area in areas:
            for layer in self.layers:
                photo = self.photos.get(layer.image_uid)
                if photo is not None:
                    keys.update(dict.fromkeys(self._missing(layer.image_uid, photo, frame, area)))
        return list(keys)

    def _missing(self, uid: str, photo: Photo, frame: PixelFrame, area: QRect) -> list[TileKey]:
        source, now = photo.source, monotonic()
        if source is None:
            opening = TileKey(uid, OPENING, 0, 0)
            late = self._late.get(opening, 0.0) > now
            return [] if photo.failed or late or opening in self._bare else [opening]
        level = source.pyramid.level_for(frame.metres_per_pixel)
        missing = [
            key
            for key in tiles_in(uid, source, level, frame.bounds(area))
            if key not in self.cache and key not in self._bare and self._late.get(key, 0.0) <= now
        ]
        middle = area.center()
        missing.sort(key=lambda key: _off(tile_pixels(source, key, frame), middle))
        return missing

    def pixels_of(self, key: TileKey, frame: PixelFrame) -> QRect:
        """Return the pixels that a tile fills; all of the image for the key that opens it."""
        photo = self.photos.get(key.image_uid)
        if photo is None or photo.source is None:
            return QRect()
        if key.level == OPENING:
            return frame.pixels(photo.source.bounds)
        return tile_pixels(photo.source, key, frame)

    def paint(self, painter: QPainter, frame: PixelFrame, rect: QRect) -> None:
        """Paint a rectangle of pixels; the painter's units are pixels of the frame."""
        for layer in self.layers:
            photo = self.photos.get(layer.image_uid)
            if photo is not None:
                painter.setOpacity(layer.opacity)
                self._paint_photo(painter, layer, photo, frame, rect)
                painter.setOpacity(1.0)

    def paint_coarse(self, painter: QPainter, frame: PixelFrame, rect: QRect) -> None:
        """Paint the small pictures alone: what is shown at once where nothing was painted yet."""
        for layer in self.layers:
            photo = self.photos.get(layer.image_uid)
            if photo is not None:
                painter.setOpacity(layer.opacity)
                _draw_overview(painter, photo, frame, rect)
                painter.setOpacity(1.0)

    def covers(self, frame: PixelFrame, rect: QRect) -> bool:
        """Whether a small picture or nothing at all is to be shown in a rectangle: it is not bare by want of time."""
        pictures = [self.photos[layer.image_uid] for layer in self.layers if layer.image_uid in self.photos]
        return all(photo.overview() is not None for photo in pictures)

    def _paint_photo(self, painter: QPainter, layer: Tiles, photo: Photo, frame: PixelFrame, rect: QRect) -> None:
        source = photo.source
        if source is None:
            area = _draw_overview(painter, photo, frame, rect)
        else:
            area = frame.pixels(source.bounds).intersected(rect)
            level = source.pyramid.level_for(frame.metres_per_pixel)
            keys = tiles_in(layer.image_uid, source, level, frame.bounds(rect))
            bare = self._bare_part(source, keys, frame, rect)
            if not bare.isEmpty():
                _draw_overview(painter, photo, frame, bare)
                self._paint_coarser(painter, layer.image_uid, source, level, frame, bare)
            for key in keys:
                tile = self.cache.get(key)
                if tile is not None:
                    _draw(painter, tile, tile_pixels(source, key, frame), layer.desaturated)
            hatch_unread(painter, source, keys, frame, rect)
        _wash(painter, layer, area)

    def _bare_part(self, source: TileSource, keys: Sequence[TileKey], frame: PixelFrame, rect: QRect) -> QRect:
        """Return the part of a rectangle round the tiles that are not there: only it is painted coarse."""
        bare = QRect()
        for key in keys:
            if key not in self.cache:
                bare = bare.united(tile_pixels(source, key, frame).intersected(rect))
        return bare

    def _paint_coarser(
        self, painter: QPainter, uid: str, source: TileSource, level: int, frame: PixelFrame, rect: QRect
    ) -> None:
        for coarser in range(source.pyramid.levels - 1, level, -1):
            for key in tiles_in(uid, source, coarser, frame.bounds(rect)):
                tile = self.cache.get(key)
                if tile is not None:
                    _draw(painter, tile, tile_pixels(source, key, frame), 0.0)


def tiles_in(uid: str, source: TileSource, level: int, bounds: Bounds) -> list[TileKey]:
    """Return the tiles of a level that touch some ground."""
    return [TileKey(uid, *spot) for spot in source.pyramid.tiles(bounds, level)]


def tile_pixels(source: TileSource, key: TileKey, frame: PixelFrame) -> QRect:
    """Return the pixels that a tile fills, its part beyond the image's edge included; neighbours leave no seam."""
    return frame.pixels(source.pyramid.tile_bounds(Spot(key.level, key.column, key.row)))


def _off(rect: QRect, middle: QPoint) -> int:
    return (rect.center() - middle).manhattanLength()


def _draw(painter: QPainter, tile: QImage, pixels: QRect, desaturated: float) -> None:
    smooth = pixels.size() != tile.size()
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, smooth)
    painter.drawImage(pixels, tile)
    if desaturated > 0:
        opacity = painter.opacity()
        painter.setOpacity(opacity * desaturated)
        painter.drawImage(pixels, tile.convertToFormat(QImage.Format.Format_Grayscale8))
        painter.setOpacity(opacity)


def _draw_overview(painter: QPainter, photo: Photo, frame: PixelFrame, rect: QRect) -> QRect:
    overview = photo.overview()
    if overview is None or photo.overview_bounds is None:
        return QRect()
    whole = frame.pixels(photo.overview_bounds)
    part = whole.intersected(rect)
    if part.isEmpty():
        return part
    across = overview.width() / whole.width()
    down = overview.height() / whole.height()
    offset = part.topLeft() - whole.topLeft()
    crop = QRectF(offset.x() * across, offset.y() * down, part.width() * across, part.height() * down)
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, QSize(whole.size()) != overview.size())
    painter.drawImage(QRectF(part), overview, crop)
    return part


def _wash(painter: QPainter, layer: Tiles, area: QRect) -> None:
    for share, colour in ((layer.lifted, Qt.GlobalColor.white), (layer.dimmed, Qt.GlobalColor.black)):
        if share > 0:
            wash = QColor(colour)
            wash.setAlphaF(share)
            painter.fillRect(area, wash)
