"""Whole device pixels on the ground: the frame in which the map's picture is kept and moved."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple, cast

from PySide6.QtCore import QPoint, QRect, QSize
from PySide6.QtGui import QRegion

from pigmap.drawing.view import View


class PixelFrame(NamedTuple):
    """Device pixels counted from a corner of the ground: columns to the east, rows to the south."""

    east_m: float
    """East of the left edge of column 0, in grid metres."""
    north_m: float
    """North of the upper edge of row 0, in grid metres."""
    metres_per_pixel: float
    """Grid metres in one device pixel."""

    def view(self, rect: QRect, density: float) -> View:
        """Return the view that fills a rectangle of pixels; `density` is device pixels in one of the view's units."""
        return View(
            self.east_m + (rect.x() + rect.width() / 2) * self.metres_per_pixel,
            self.north_m - (rect.y() + rect.height() / 2) * self.metres_per_pixel,
            self.metres_per_pixel * density,
            rect.width() / density,
            rect.height() / density,
        )

    def pixels(self, bounds: tuple[float, float, float, float]) -> QRect:
        """Return the pixels that ground from west, south to east, north [m] fills, edges rounded to the nearest."""
        west, south, east, north = bounds
        left, right = (round((x - self.east_m) / self.metres_per_pixel) for x in (west, east))
        top, bottom = (round((self.north_m - y) / self.metres_per_pixel) for y in (north, south))
        return QRect(left, top, max(right - left, 1), max(bottom - top, 1))

    def bounds(self, rect: QRect) -> tuple[float, float, float, float]:
        """Return the ground under a rectangle of pixels: west, south, east, north [m]."""
        west = self.east_m + rect.x() * self.metres_per_pixel
        north = self.north_m - rect.y() * self.metres_per_pixel
        return (
            west,
            north - rect.height() * self.metres_per_pixel,
            west + rect.width() * self.metres_per_pixel,
            north,
        )


class Piece(NamedTuple):
    """A part of a rectangle of pixels, and where a picture that wraps round at its edges keeps it."""

    rect: QRect
    kept_at: QRect


def wrapped(rect: QRect, size: QSize) -> Iterator[Piece]:
    """Yield the parts of a rectangle no larger than the picture: one, or two or four where it wraps round."""
    for left, width in _cut(rect.x(), rect.width(), size.width()):
        for top, height in _cut(rect.y(), rect.height(), size.height()):
            kept = QPoint(left % size.width(), top % size.height())
            yield Piece(QRect(left, top, width, height), QRect(kept, QSize(width, height)))


def _cut(start: int, length: int, period: int) -> Iterator[tuple[int, int]]:
    first = min(length, period - start % period)
    if first > 0:
        yield start, first
    if length > first:
        yield start + first, length - first


def rects(region: QRegion) -> Iterator[QRect]:
    """Yield the rectangles of a region (PySide6 6.11: it can be walked through, its stub does not say so)."""
    return iter(cast("Any", region))
