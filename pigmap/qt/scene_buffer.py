"""The map's picture: the view and a margin, kept in device pixels, so that moving the map copies pixels only."""

from __future__ import annotations

from collections.abc import Mapping
from time import perf_counter

from PySide6.QtCore import QPoint, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QRegion

from pigmap.qt.large_picture import LargePicture
from pigmap.qt.owed_sheet import BLOCK_PX, PaintGround, Sheet, block
from pigmap.qt.pixel_frame import Piece, PixelFrame, rects, wrapped

MARGIN_PX = 256
"""Device pixels kept beyond each edge of the view."""
OVERHANG_PX = {"photo": 48, "cells": 16, "lines": 48, "signs": 48}
"""Signs that reach over the edge of a piece are painted this far beyond it; clods and marks of the ground are small."""
FAST_PX = 12
"""A move of so many pixels at once is a fast one."""
CLEAR = QColor(0, 0, 0, 0)

SHEETS = ("photo", "cells", "lines", "signs")
"""Sheets of the picture from below: the photo, the tinted ground, lines that are the same on all days, and lines and
words that change from day to day."""
KEPT_AS = QImage.Format.Format_ARGB32_Premultiplied
"""Format of every sheet, also of opaque ones.

Qt copies RGB32 by `memcpy`, which takes five times as long where the addresses of both pictures lie some bytes apart
within a page (glibc up to 2.38 on AMD's Zen, bug 30994): every few pixels that the map moves, and for good wherever the
pictures were laid so. Its own copying of premultiplied pixels does not mind.
"""


class SceneBuffer:
    """A picture of the ground in view and a margin round it, painted sheet by sheet and piece by piece.

    The picture wraps round at its edges: a move only changes which pixels are wanted, nothing is copied. Every
    sheet knows which pixels it still owes; what a person sees is composed of all of them.

    Parameters
    ----------
    frame
        Where pixels lie on the ground.
    paper
        Colour where nothing lies.
    """

    def __init__(self, frame: PixelFrame, view: QRect, paper: QColor) -> None:
        self.size = _size_for(view)
        self._memory = {name: LargePicture(self.size, KEPT_AS) for name in ("", *SHEETS)}
        self.image = self._memory[""].image
        self._sheets = {name: Sheet(self._memory[name].image, name == SHEETS[0]) for name in SHEETS}
        self.begin(frame, view, paper)

    def begin(self, frame: PixelFrame, view: QRect, paper: QColor) -> None:
        """Begin again in another frame, with the same memory."""
        self.frame = frame
        self.paper = paper
        self.view = QRect(view)
        self.kept = QRect()
        self._ahead = QPoint(0, 0)
        self.blank = QRegion()
        """Pixels that were never composed."""
        self._stale = QRegion()
        self.fresh = QRegion()
        """Pixels composed since someone asked last; whoever shows them clears it."""
        for sheet in self._sheets.values():
            sheet.dirty = QRegion()
        self.move_to(view)

    def fits(self, view: QRect) -> bool:
        """Whether this picture has the size that a view needs."""
        return self.size == _size_for(view)

    def painters(self, paint: Mapping[str, PaintGround | None]) -> None:
        """Say who paints which sheet; None for a sheet with nothing on it."""
        for name, sheet in self._sheets.items():
            was_used, sheet.paint = sheet.is_used, paint.get(name)
            if sheet.is_used and not was_used:
                sheet.dirty = QRegion(self.kept)  # nothing of it was painted while it had no painter

    def move_to(self, view: QRect) -> None:
        """Make a rectangle of pixels the view; what newly comes into the margin is owed by every sheet."""
        self._look_ahead(view.topLeft() - self.view.topLeft())
        self.view = QRect(view)
        ahead = view.translated(self._ahead)
        enough = view.united(ahead).adjusted(-BLOCK_PX, -BLOCK_PX, BLOCK_PX, BLOCK_PX)
        if not self.kept.isNull() and self.kept.contains(enough):
            return
        kept = QRect(QPoint(block(ahead.left() - MARGIN_PX), block(ahead.top() - MARGIN_PX)), self.size)
        new = QRegion(kept) - QRegion(self.kept)
        self.kept = kept
        self.blank = self.blank.intersected(kept).united(new)
        self._stale = self._stale.intersected(kept)
        for sheet in self._sheets.values():
            sheet.dirty = sheet.dirty.intersected(kept).united(new) if sheet.is_used else QRegion()

    def _look_ahead(self, moved: QPoint) -> None:
        """Keep more of the ground that a fast move goes to; a slow one leaves it as it is."""
        ahead = (self._ahead.x(), self._ahead.y())
        x, y = (
            old if abs(step) < FAST_PX else BLOCK_PX * (1 if step > 0 else -1)
            for old, step in zip(ahead, (moved.x(), moved.y()), strict=True)
        )
        self._ahead = QPoint(x, y)

    def spoil(self, name: str, rect: QRect | None = None) -> None:
        """Owe a sheet anew, everywhere or in a rectangle; what was composed stays in sight until it is painted."""
        sheet, area = self._sheets[name], (rect or self.kept).intersected(self.kept)
        if sheet.is_used:
            sheet.dirty = sheet.dirty.united(area)
        else:
            self._stale = self._stale.united(area)  # what it showed before goes

    def owes(self, within: QRect | None = None) -> bool:
        """Whether a sheet still owes pixels, or some wait to be composed."""
        area = within or self.kept
        return any(sheet.dirty.intersects(area) for sheet in self._sheets.values()) or self._stale.intersects(area)

    def is_blank(self, within: QRect) -> bool:
        """Whether some pixels were never composed."""
        return self.blank.intersects(within)

    def work(self, until: float) -> bool:
        """Paint what is owed, the view first, until a time of `time.perf_counter`; return whether any is left."""
        while self.owes():
            began = perf_counter()
            area = self._most_wanted()
            if not self._paint_one(area, max((until - began) * 1000, 0.5)):
                self._compose(self._stale.intersected(area))
            ended = perf_counter()
            if ended + (ended - began) >= until:  # another piece like this one would not be done in time
                break
        return self.owes()

    def _most_wanted(self) -> QRegion:
        empty = self.blank.intersected(self.view)
        if not empty.isEmpty():
            return empty
        if self.owes(self.view):
            return QRegion(self.view)
        near = self.view.adjusted(-BLOCK_PX, -BLOCK_PX, BLOCK_PX, BLOCK_PX)
        return QRegion(near if self._owed(near) else self.kept)

    def complete(self, within: QRect) -> None:
        """Paint all that is owed in a rectangle at once."""
        while self._paint_one(QRegion(within), 1000.0):
            pass
        self._compose(self._stale.intersected(within))

    def complete_sheet(self, name: str, within: QRect) -> None:
        """Paint what one sheet owes in a rectangle at once, and show it where there is a picture already."""
        while self._paint_one(QRegion(within), 1000.0, name):
            pass
        self._compose(self._stale.intersected(within) - self.blank)

    def show_straight(self, name: str, within: QRegion) -> None:
        """Show some of what one sheet owes at once, where there is a picture already.

        It is painted straight into the picture, which moves half as much memory; its sheet still owes it.
        """
        self._draw(self._sheets[name].dirty.intersected(within) - self.blank, straight=name)

    def composed(self, within: QRect) -> QRegion:
        """Return the pixels of a rectangle that can be shown."""
        return QRegion(within.intersected(self.kept)) - self.blank

    def _paint_one(self, area: QRegion, left_ms: float, only: str = "") -> bool:
        for name, sheet in self._sheets.items():
            if name.startswith(only) and sheet.dirty.intersects(area):
                self._paint_piece(sheet, sheet.take(area, left_ms), self.paper if name == SHEETS[0] else CLEAR)
                self._compose_new()
                return True
        return False

    def _paint_piece(self, sheet: Sheet, piece: QRect, ground: QColor) -> None:
        began = perf_counter()
        for part in wrapped(piece, self.size):
            with QPainter(sheet.image) as painter:
                painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_Source)
                painter.fillRect(part.kept_at, ground)
                painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_SourceOver)
                _paint_part(sheet, painter, self.frame, part)
        sheet.dirty -= QRegion(piece)
        self._stale = self._stale.united(piece)
        if sheet.paint is not None:
            sheet.learn(piece.width() * piece.height(), (perf_counter() - began) * 1000)

    def _compose_new(self) -> None:
        """Compose what was never composed as soon as all sheets have it; the rest once the whole view is painted."""
        ready = self._stale
        for sheet in self._sheets.values():
            ready = ready - sheet.dirty
        self._compose(ready if not self._owed(self.view) else ready.intersected(self.blank))

    def _owed(self, within: QRect) -> bool:
        return any(sheet.dirty.intersects(within) for sheet in self._sheets.values())

    def _compose(self, region: QRegion) -> None:
        if region.isEmpty():
            return
        self._draw(region)
        self._stale -= region
        self.blank -= region
        self.fresh += region

    def _draw(self, region: QRegion, straight: str = "") -> None:
        """Lay the sheets over each other; one may be painted straight onto those below it."""
        # A painter that finds the same piece every time finds again what it laid out for it.
        whole = self.view if straight else region.boundingRect()
        with QPainter(self.image) as painter:
            for part in wrapped(whole, self.size):
                shift = part.kept_at.topLeft() - part.rect.topLeft()
                painter.setClipRegion(region.translated(shift).intersected(part.kept_at))
                for name, sheet in self._sheets.items():
                    if name == straight:
                        _paint_part(sheet, painter, self.frame, part)
                    elif sheet.is_used:  # the lowest is opaque: it covers what was there
                        painter.drawImage(part.kept_at.topLeft(), sheet.image, part.kept_at)

    def blit(self, painter: QPainter, rect: QRect) -> None:
        """Copy a rectangle of pixels to a painter whose units are device pixels and whose origin is the view's."""
        for part in wrapped(rect.intersected(self.kept), self.size):
            painter.drawImage(part.rect.topLeft() - self.view.topLeft(), self.image, part.kept_at)

    def stretch(self, painter: QPainter, frame: PixelFrame, view: QRect, shown: QRegion) -> None:
        """Copy what is composed into another frame, stretched, to the pixels of `shown_in`."""
        painter.save()
        painter.setClipRegion(shown.translated(-view.topLeft()))
        scale = self.frame.metres_per_pixel / frame.metres_per_pixel
        for part in wrapped(self.kept, self.size):
            west, _, _, north = self.frame.bounds(part.rect)
            x = (west - frame.east_m) / frame.metres_per_pixel - view.x()
            y = (frame.north_m - north) / frame.metres_per_pixel - view.y()
            target = QRectF(x, y, part.rect.width() * scale, part.rect.height() * scale)
            painter.drawImage(target, self.image, QRectF(part.kept_at))
        painter.restore()

    def shown_in(self, frame: PixelFrame) -> QRegion:
        """Return the pixels of another frame that what is composed fills; those never composed are left out."""
        shown = QRegion()
        for rect in rects(self.composed(self.kept)):
            shown = shown.united(frame.pixels(self.frame.bounds(rect)))
        return shown


def _paint_part(sheet: Sheet, painter: QPainter, frame: PixelFrame, part: Piece) -> None:
    if sheet.paint is not None:
        painter.save()
        painter.setClipRect(part.kept_at, Qt.ClipOperation.IntersectClip)
        painter.translate(part.kept_at.topLeft() - part.rect.topLeft())
        sheet.paint(painter, frame, part.rect)
        painter.restore()


def _size_for(view: QRect) -> QSize:
    """Return the size of the picture for a view: margins to all sides, in whole blocks wherever the view lies."""
    wide, high = (length + 2 * MARGIN_PX for length in (view.width(), view.height()))
    return QSize((-(-wide // BLOCK_PX) + 1) * BLOCK_PX, (-(-high // BLOCK_PX) + 1) * BLOCK_PX)
