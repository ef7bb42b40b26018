"""Paint small signs at points."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPainterPath

from pigmap.drawing.along import spots_along
from pigmap.drawing.layer import Marks
from pigmap.drawing.view import View
from pigmap.qt.painter_paths import colour, is_vector, pen, polygon
from pigmap.qt.signs import Brush, draw_sign

_NICK = 0.42
"""Breadth of a nick, as a share of the side's."""


def paint_marks(layer: Marks, painter: QPainter, view: View) -> None:
    """Paint a layer of marks."""
    if view.pixel_m > layer.smallest_scale or not len(layer.points):
        return
    spots, turned = _spots(layer, view)
    size = view.size(layer.size.px, layer.size.mm)
    casing = view.size(layer.casing_width.px, layer.casing_width.mm)
    reach = 2 * size + casing
    seen = ((spots >= -reach) & (spots <= (view.width + reach, view.height + reach))).all(axis=1)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if layer.sign == "nick":
        _nicks(spots[seen], turned[seen], size, layer.casing, painter)
        return
    if layer.sign == "dot":
        if casing:
            _dots(spots[seen], size + 2 * casing, layer.casing, painter)
        _dots(spots[seen], size, layer.colour, painter)
        return
    values = np.array(layer.values or (0,) * len(spots), dtype=np.int64)[seen]
    for (x, y), angle, value in zip(spots[seen].tolist(), turned[seen].tolist(), values.tolist(), strict=True):
        painter.save()
        painter.translate(x, y)
        painter.rotate(-angle)
        draw_sign(painter, layer.sign, Brush(size, layer.colour, layer.casing, casing, value))
        painter.restore()


def _spots(layer: Marks, view: View) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    device = view.to_device(layer.points)
    if layer.starts is not None:
        every = view.size(layer.every.px, layer.every.mm)
        spots = spots_along(device, layer.starts, every=every, first=layer.first)
        return spots.points, -spots.turned_deg
    return device, np.zeros(len(device)) if layer.turned_deg is None else layer.turned_deg


def _nicks(
    spots: NDArray[np.float64], turned_deg: NDArray[np.float64], size: float, name: str, painter: QPainter
) -> None:
    """Draw posts of a thick side: a notch in both of its edges."""
    turned = np.radians(turned_deg)
    across = np.stack([np.sin(turned), np.cos(turned)], axis=1) * (size / 2)
    _dots(np.concatenate([spots - across, spots + across]), size * _NICK, name, painter)


def _dots(spots: NDArray[np.float64], size: float, name: str, painter: QPainter) -> None:
    if is_vector(painter):
        path = QPainterPath()
        path.setFillRule(Qt.FillRule.WindingFill)
        for x, y in spots.tolist():
            path.addEllipse(QPointF(x, y), size / 2, size / 2)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour(name))
        painter.drawPath(path)
    elif len(spots):
        painter.setPen(pen(name, size))
        painter.drawPoints(polygon(spots))
