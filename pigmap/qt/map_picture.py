"""What the map shows and where: the picture in work, the one before it, and the layers they are painted from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from time import perf_counter

from PySide6.QtCore import QPoint, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QRegion

from pigmap.drawing.layer import Cells, Labels, Layer, Tiles
from pigmap.drawing.view import View
from pigmap.qt.changed_pixels import changed_pixels
from pigmap.qt.layer_extent import Bounds, extent, meet
from pigmap.qt.owed_sheet import PaintGround
from pigmap.qt.painter import paint
from pigmap.qt.painter_labels import find_room
from pigmap.qt.photo import Photo, PhotoSheet
from pigmap.qt.pixel_frame import PixelFrame, rects
from pigmap.qt.scene_buffer import OVERHANG_PX, SceneBuffer

CATCH_UP_S = 0.0025
"""Longest stretch of painting inside a frame whose ground came into view just now [s]."""


class MapPicture:
    """Keeps the picture of the view; knows no widget.

    A change of scale begins a new picture; the one before is stretched in its place until the new one has all of the
    view.
    """

    def __init__(self, photo: PhotoSheet) -> None:
        self.photo = photo
        self.paper = QColor("#F1F3EF")
        self.density = 1.0
        """Device pixels in one unit of the widget."""
        self.frame = PixelFrame(0.0, 0.0, 1.0)
        self.rect = QRect(0, 0, 1, 1)
        """The view, in pixels of the frame."""
        self._view: View | None = None
        self.coarse_frames = 0
        """Frames in which ground in view was shown coarser than it is kept."""
        self.bare_frames = 0
        """Frames in which some ground in view could not be shown at all."""
        self._layers: dict[str, list[Layer]] = {"photo": [], "cells": [], "lines": [], "signs": []}
        self._bounds: dict[str, list[Bounds]] = {sheet: [] for sheet in self._layers}
        self._changed_cells = QRegion()
        """Pixels of the view in which tinted ground changed when it was shown last."""
        self._now: SceneBuffer | None = None
        self._before: SceneBuffer | None = None
        self._spare: SceneBuffer | None = None
        self._shown = False

    @property
    def view(self) -> View:
        """Which ground lies where on the widget."""
        if self._view is None:
            self._view = self.frame.view(self.rect, self.density)
        return self._view

    @property
    def areas(self) -> tuple[QRect, QRect]:
        """The view, and all that is kept round it."""
        return self.rect, self._now.kept if self._now is not None else self.rect

    @property
    def is_dark(self) -> bool:
        """Whether words lie on dark paper: no image is shown and the paper is dark."""
        return self.paper.lightness() < 128 and not any(
            layer.image_uid in self.photo.photos for layer in self.photo.layers
        )

    @property
    def is_complete(self) -> bool:
        """Whether all of the view is painted."""
        return self._now is not None and not self._now.owes(self.rect)

    def aim(self, x_m: float, y_m: float, metres_per_pixel: float, size: QSize) -> None:
        """Look at a point at a scale, through a view of so many device pixels."""
        west = x_m - size.width() / 2 * metres_per_pixel
        north = y_m + size.height() / 2 * metres_per_pixel
        self.frame = PixelFrame(west, north, metres_per_pixel)
        self.rect = QRect(QPoint(0, 0), size)
        self._view = None
        self.begin()

    def begin(self) -> None:
        """Begin a new picture of the view; what there is stays in sight until it is there."""
        done = self._now
        if done is not None and not done.is_blank(done.view):
            self._before, self._spare = done, self._before
        elif done is not None:
            self._spare = done
        if self._spare is not None and self._spare.fits(self.rect):
            self._now, self._spare = self._spare, None
            self._now.begin(self.frame, self.rect, self.paper)
        else:
            self._now = SceneBuffer(self.frame, self.rect, self.paper)
        self._now.painters(self._painters())

    def pan(self, dx: int, dy: int) -> None:
        """Move the view by device pixels."""
        self.rect.translate(dx, dy)
        self._view = None
        if self._now is not None:
            self._now.move_to(self.rect)

    def show(self, sheet: str, layers: Sequence[Layer]) -> QRegion:
        """Show layers on a sheet, on that of the ``photo`` over the photo; return the pixels of the view that change.

        Only tinted ground is known to change in places: other sheets change everywhere.
        """
        before = self._layers[sheet]
        if len(layers) == len(before) and all(new is old for new, old in zip(layers, before, strict=True)):
            return QRegion()
        self._layers[sheet] = list(layers)
        self._bounds[sheet] = [extent(layer) for layer in layers]
        if sheet != "cells":
            self.spoil(sheet)
            return QRegion(self.rect)
        changed = changed_pixels(before, layers, self.frame, self.areas[1], self.density)
        if not changed.isEmpty():
            self.spoil(sheet, changed.boundingRect())
        self._changed_cells = changed.intersected(self.rect)
        return self._changed_cells

    def show_photos(self, layers: Sequence[Tiles], photos: Mapping[str, Photo]) -> None:
        """Show images by the layers that name them; words change, too, where the first comes or the last goes."""
        dark = self.is_dark
        self.photo.layers, self.photo.photos = layers, photos
        for sheet in ("photo",) if dark == self.is_dark else tuple(self._layers):
            self.spoil(sheet)

    def on_widget(self, pixels: QRegion) -> QRegion:
        """Return where pixels of the frame lie on the widget, in its own units."""
        moved = pixels.translated(-self.rect.topLeft())
        if self.density == 1.0:
            return moved
        scale = 1 / self.density
        found = QRegion()
        for each in rects(moved):
            whole = QRectF(each.x() * scale, each.y() * scale, each.width() * scale, each.height() * scale)
            found += whole.toAlignedRect()
        return found

    def spoil(self, sheet: str, rect: QRect | None = None) -> None:
        """Have a sheet painted again, all of it or a rectangle of pixels."""
        if self._now is not None:
            self._now.painters(self._painters())
            self._now.spoil(sheet, rect)

    @property
    def has_blank(self) -> bool:
        """Whether some of the view was never painted."""
        return self._now is None or self._now.is_blank(self.rect)

    def work(self, seconds: float) -> bool:
        """Paint for so long; return whether more is to do."""
        if self._now is None:
            return False
        until = perf_counter() + seconds
        if not self._find_room(until):
            return True
        more = self._now.work(until)
        self._let_go()
        return more

    def take_changed(self) -> QRegion:
        """Return the pixels of the view that are other than when this was asked last; none while a new scale comes."""
        if self._now is None or self._before is not None:
            return QRegion()
        fresh, self._now.fresh = self._now.fresh, QRegion()
        return fresh.intersected(self.rect)

    def _find_room(self, until: float) -> bool:
        """Find out which words have room at this scale, until then; return whether that is done."""
        labels = [layer for layer in self._layers["signs"] if isinstance(layer, Labels)]
        return all(find_room(layer, self.view, until) for layer in labels)

    def complete(self, *, margin: bool = False) -> None:
        """Paint all that the view owes at once; with its margin where that is wanted."""
        if self._now is not None:
            self._now.complete(self._now.kept if margin else self.rect)
            self._let_go()

    def show_cells(self) -> None:
        """Show tinted ground that changed last at once, under the same lines and words."""
        if self._now is not None and self._before is None:
            self._now.show_straight("cells", self._changed_cells)

    def complete_at(self, ground: Bounds) -> None:
        """Paint at once the lines and words over some ground in view."""
        if self._now is not None and self._before is None:
            reach = OVERHANG_PX["signs"]
            rect = self.frame.pixels(ground).adjusted(-reach, -reach, reach, reach).intersected(self.rect)
            if not rect.isEmpty():
                for sheet in ("lines", "signs"):
                    self._now.complete_sheet(sheet, rect)

    def _let_go(self) -> None:
        if self._before is not None and self._now is not None and not self._now.is_blank(self.rect):
            self._before, self._spare = None, self._before
            self._now.fresh = QRegion(self.rect)

    def paint(self, painter: QPainter, rect: QRect) -> None:
        """Paint a rectangle of the view; the painter's units are device pixels, its origin that of the view."""
        now = self._now
        if now is None:
            return
        wanted = rect.translated(self.rect.topLeft()).intersected(self.rect)
        if not self._shown:
            now.complete(self.rect)
            self._shown = True
        elif self._before is None and now.is_blank(wanted):
            self.work(CATCH_UP_S)
        if not now.is_blank(wanted):
            now.blit(painter, wanted)
        elif self._before is not None:
            stretched = self._before.shown_in(self.frame)
            self._paint_meanwhile(painter, QRegion(wanted) - stretched)
            self._before.stretch(painter, self.frame, self.rect, stretched)
        else:
            there = now.composed(wanted)
            self._paint_meanwhile(painter, QRegion(wanted) - there)
            for part in rects(there):
                now.blit(painter, part)
            if not self.photo.covers(self.frame, wanted):
                self.bare_frames += 1

    def _paint_meanwhile(self, painter: QPainter, missing: QRegion) -> None:
        """Show the small photo where the picture is not painted yet."""
        self.coarse_frames += 1
        if missing.isEmpty():
            return
        painter.save()
        painter.translate(-self.rect.topLeft())
        painter.setClipRegion(missing, Qt.ClipOperation.IntersectClip)
        for part in rects(missing):
            painter.fillRect(part, self.paper)
            self.photo.paint_coarse(painter, self.frame, part)
        painter.restore()

    def _painters(self) -> dict[str, PaintGround | None]:
        return {
            "photo": self._paint_photo,
            "cells": self._painter_of("cells") if self._layers["cells"] else None,
            "lines": self._painter_of("lines") if self._layers["lines"] else None,
            "signs": self._painter_of("signs") if self._layers["signs"] else None,
        }

    def _paint_photo(self, painter: QPainter, frame: PixelFrame, rect: QRect) -> None:
        self.photo.paint(painter, frame, rect)
        if self._layers["photo"]:
            self._painter_of("photo")(painter, frame, rect)

    def _painter_of(self, sheet: str) -> PaintGround:
        def paint_sheet(painter: QPainter, frame: PixelFrame, rect: QRect) -> None:
            over = OVERHANG_PX[sheet]
            reach = rect.adjusted(-over, -over, over, over)
            painter.translate(reach.topLeft())
            painter.scale(self.density, self.density)
            ground = frame.bounds(reach)
            there = zip(self._layers[sheet], self._bounds[sheet], strict=True)
            layers = [layer for layer, bounds in there if meet(bounds, ground)]
            paint(layers, painter, frame.view(reach, self.density), dark=self.is_dark)

        return paint_sheet


def split(layers: Sequence[Layer]) -> tuple[list[Tiles], list[Layer], list[Layer], list[Layer], list[Layer]]:
    """Return layers by sheet: photos, what lies over them, tinted ground, lines that are always there, and the rest."""
    photos = [layer for layer in layers if isinstance(layer, Tiles)]
    others: list[Layer] = [layer for layer in layers if not isinstance(layer, Tiles)]
    cells: list[Layer] = [layer for layer in others if isinstance(layer, Cells)]
    first = others.index(cells[0]) if cells else 0
    signs: list[Layer] = [layer for layer in others[first:] if not isinstance(layer, Cells)]
    still = next((at for at, layer in enumerate(signs) if not getattr(layer, "still", False)), len(signs))
    return photos, others[:first], cells, signs[:still], signs[still:]
