"""One sheet of the map's picture: who paints it, what of it is owed, and how much of that fits into a slice of time."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from PySide6.QtCore import QRect
from PySide6.QtGui import QImage, QPainter, QRegion

from pigmap.qt.pixel_frame import PixelFrame, rects

BLOCK_PX = 128
"""The picture is painted in whole blocks: a narrow strip costs nearly as much, and what lies beside it comes next."""
LEAST_BLOCKS, MOST_BLOCKS = 1, 192
"""Blocks painted at once: as many as fit into the time that is left, by what the last ones took."""

PaintGround = Callable[[QPainter, PixelFrame, QRect], None]
"""Paints what lies in a rectangle of pixels; the painter's units are pixels, its origin that of the frame."""


@dataclass
class Sheet:
    """A transparent picture as large as what is kept, or the paper under all of them."""

    image: QImage
    is_lowest: bool
    """Whether it is the paper that all others lie on."""
    paint: PaintGround | None = None
    dirty: QRegion = field(default_factory=QRegion)
    pixels_per_ms: float = 20_000.0

    @property
    def is_used(self) -> bool:
        """Whether it is painted at all."""
        return self.is_lowest or self.paint is not None

    def take(self, within: QRegion, slice_ms: float) -> QRect:
        """Return the next blocks to paint, few enough for the time that is left.

        Of the paper and its photo just what is owed: a tile that came in does not touch those beside it.
        """
        seed = next(rects(self.dirty.intersected(within)))
        if self.is_lowest:
            return cut(seed, max(int(self.pixels_per_ms * slice_ms), LEAST_BLOCKS * BLOCK_PX**2))
        left, top = block(seed.left()), block(seed.top())
        columns, rows = (seed.right() - left) // BLOCK_PX + 1, (seed.bottom() - top) // BLOCK_PX + 1
        most = min(max(int(self.pixels_per_ms * slice_ms) // BLOCK_PX**2, LEAST_BLOCKS), MOST_BLOCKS)
        columns = min(columns, most)
        rows = min(rows, max(most // columns, 1))
        return QRect(left, top, columns * BLOCK_PX, rows * BLOCK_PX)

    def learn(self, pixels: int, took_ms: float) -> None:
        """Remember how fast this sheet is painted, the slow pieces longer than the fast ones."""
        measured = pixels / max(took_ms, 0.02)
        weight = 0.7 if measured < self.pixels_per_ms else 0.1
        self.pixels_per_ms += weight * (measured - self.pixels_per_ms)


def cut(rect: QRect, most_pixels: int) -> QRect:
    """Return the upper left part of a rectangle that has about so many pixels at most."""
    wide = min(rect.width(), max(most_pixels, 1))
    return QRect(rect.x(), rect.y(), wide, min(rect.height(), max(most_pixels // wide, 1)))


def block(at: int) -> int:
    """Return where the block begins that a row or column of pixels lies in."""
    return at // BLOCK_PX * BLOCK_PX
