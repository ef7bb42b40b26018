"""Paint a page: the same for every kind of file."""

from __future__ import annotations

from functools import singledispatch

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF

from pigmap.drawing.output import TileReader
from pigmap.drawing.page import Box, Item, MapFrame, Page, Rule, Shape, Sign, Words
from pigmap.drawing.tokens import MAP_INK
from pigmap.qt.icons import paint_icon
from pigmap.qt.painter import paint
from pigmap.qt.painter_labels import paint_sign
from pigmap.qt.painter_paths import colour, is_vector, pen, set_dashes
from pigmap.qt.painter_words import write_words


def paint_page(page: Page, painter: QPainter, *, images: TileReader | None = None) -> None:
    """Paint all items of a page; the painter's units are millimetres, its origin the page's upper left corner."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
    for item in page.items:
        painter.save()
        if isinstance(item, MapFrame):
            _map(item, painter, images)
        else:
            _item(item, painter)
        painter.restore()


@singledispatch
def _item(item: Item, painter: QPainter) -> None:
    raise TypeError(f"a page cannot hold {type(item).__name__}")


@_item.register
def _words(item: Words, painter: QPainter) -> None:
    write_words(
        painter,
        item.x_mm,
        item.y_mm,
        item.words,
        item.size_mm,
        weight=item.weight,
        name=item.colour,
        align=item.align,
        halo=item.halo_mm,
        paper=True,
        turned_deg=item.turned_deg,
    )


@_item.register
def _rule(item: Rule, painter: QPainter) -> None:
    made = pen(item.colour, item.width_mm, Qt.PenCapStyle.FlatCap)
    if item.dash_mm:
        set_dashes(made, item.dash_mm, painter)
    painter.setPen(made)
    painter.drawLine(QLineF(item.x1_mm, item.y1_mm, item.x2_mm, item.y2_mm))


@_item.register
def _box(item: Box, painter: QPainter) -> None:
    painter.setPen(pen(item.colour, item.line_mm) if item.line_mm else Qt.PenStyle.NoPen)
    painter.setBrush(colour(item.fill) if item.fill else Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(QRectF(item.x_mm, item.y_mm, item.width_mm, item.height_mm), item.radius_mm, item.radius_mm)


@_item.register
def _shape(item: Shape, painter: QPainter) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour(item.fill))
    painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in item.points_mm]))


@_item.register
def _sign(item: Sign, painter: QPainter) -> None:
    box = QRectF(item.x_mm, item.y_mm, item.size_mm, item.size_mm)
    if item.name.startswith("group "):
        paint_sign(item.name, painter, box)
    else:
        paint_icon(painter, item.name, box, MAP_INK)


def _map(item: MapFrame, painter: QPainter, images: TileReader | None) -> None:
    box = QRectF(item.x_mm, item.y_mm, item.view.width, item.view.height)
    painter.save()
    if item.clipped:
        painter.setClipRect(box, Qt.ClipOperation.IntersectClip)
    painter.translate(item.x_mm, item.y_mm)
    paint(item.layers, painter, item.view, images=images, pressing=not is_vector(painter))
    painter.restore()
    if item.line_mm:
        around = QPen(pen("#121A17", item.line_mm))
        around.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
        painter.setPen(around)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(box)
