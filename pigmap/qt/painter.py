"""Paint layer descriptions, for the window, the picture and the page alike."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtGui import QPainter

from pigmap.drawing.layer import Cells, Labels, Layer, Marks, Outlines, Tiles
from pigmap.drawing.output import TileReader
from pigmap.drawing.view import View
from pigmap.qt.painter_cells import paint_cells
from pigmap.qt.painter_labels import paint_labels
from pigmap.qt.painter_marks import paint_marks
from pigmap.qt.painter_outlines import paint_outlines
from pigmap.qt.painter_tiles import paint_tiles


def paint(
    layers: Iterable[Layer],
    painter: QPainter,
    view: View,
    *,
    images: TileReader | None = None,
    pressing: bool = False,
    dark: bool = False,
) -> None:
    """Paint layers from below to above.

    Parameters
    ----------
    layers
        What to paint. They may be handed over one by one, in slices of time.
    painter
        Its units are those of the view, its origin the view's upper left corner. Layers paint over that edge where
        a sign or a line reaches over it: clip where that matters.
    view
        Which ground lies where. A piece of a larger view at the same scale gives the same marks and words.
    images
        Reads the photo; without it photos are left out.
    pressing
        Whether hedges, stripes and old bare patches of the photo stay visible in tinted ground (needs `images`).
    dark
        Whether the ground is bare and dark: words that lie on it are light then.
    """
    photo: Tiles | None = None
    for layer in layers:
        painter.save()
        if isinstance(layer, Tiles):
            photo = layer
            paint_tiles(layer, painter, view, images)
        elif isinstance(layer, Cells):
            paint_cells(layer, painter, view, pressed=images if pressing else None, photo=photo, dark=dark)
        elif isinstance(layer, Outlines):
            paint_outlines(layer, painter, view)
        elif isinstance(layer, Marks):
            paint_marks(layer, painter, view)
        elif isinstance(layer, Labels):
            paint_labels(layer, painter, view, dark=dark)
        painter.restore()
