"""Paint lines and rings: fills without soft edges, one path with soft edges for all their outlines."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPen

from pigmap.drawing.layer import Hatch, Outlines
from pigmap.drawing.rings import Rings, area_of, lines_of, rings_of
from pigmap.drawing.view import View
from pigmap.qt.painter_paths import clipped, colour, is_vector, path_of, pen, pens, polygon, rings_in_view
from pigmap.qt.painter_strokes import is_solid, lines_along, stroke_pixels
from pigmap.qt.scaled_rings import bounds_of_layer, scaled_rings


def paint_outlines(layer: Outlines, painter: QPainter, view: View) -> None:
    """Paint a layer of outlines."""
    if view.pixel_m > layer.smallest_scale:
        return
    margin = view.size(24, 5)
    if _is_plain(layer) and not is_vector(painter):
        made = [each for stroke in layer.strokes for each in pens(stroke, view, painter)]
        if all(is_solid(each) for each in made) and _paint_small(layer, made, painter, view):
            return
    rings = rings_in_view(Rings(layer.points, layer.starts), bounds_of_layer(layer), view, margin)
    if not len(rings.points):
        return
    if layer.fill:
        _fill(layer, rings, painter)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if layer.hatch is not None:
        _hatch(layer, rings, painter, view)
    if layer.inside:
        _bands(layer, rings, painter, view)
        return
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if is_vector(painter):
        path = path_of(rings, closed=layer.closed)
        for each in (each for stroke in layer.strokes for each in pens(stroke, view, painter)):
            painter.setPen(each)
            painter.drawPath(path)
    else:
        stroke_pixels(rings, layer, painter, view)


def _is_plain(layer: Outlines) -> bool:
    return layer.hatch is None and not layer.inside and not layer.holes


def _paint_small(layer: Outlines, made: Sequence[QPen], painter: QPainter, view: View) -> bool:
    """Paint rings from shapes that are kept for this scale; return whether all of them were small enough."""
    scaled = scaled_rings(layer, view.metres_per_unit)
    near = scaled.near(clipped(painter, view), max((each.widthF() for each in made), default=0.0) + 2.0)
    if near is None:
        return False
    painter.translate(scaled.offset(view))
    if layer.fill:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour(layer.fill))
        for ring in near:
            painter.drawPolygon(scaled.polygon(ring))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    lines = [line for ring in near for line in scaled.lines(ring)] if made else []
    for each in made:
        each.setCapStyle(Qt.PenCapStyle.SquareCap)
        painter.setPen(each)
        painter.drawLines(lines)
    return True


def _fill(layer: Outlines, rings: Rings, painter: QPainter) -> None:
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, is_vector(painter))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour(layer.fill))
    if layer.holes:
        painter.drawPath(path_of(rings, closed=True))
        return
    for start, end in zip(rings.starts[:-1].tolist(), rings.starts[1:].tolist(), strict=True):
        painter.drawPolygon(polygon(rings.points[start:end]))


def _bands(layer: Outlines, rings: Rings, painter: QPainter, view: View) -> None:
    """Draw strokes wholly inside their rings: along the ring half their breadth further in."""
    area = area_of(rings, holes=layer.holes)
    for stroke in layer.strokes:
        width = view.size(stroke.width.px, stroke.width.mm)
        middle = rings_of([area.buffer(-width / 2, join_style="mitre")])
        made = pen(stroke.colour, width, Qt.PenCapStyle.SquareCap)
        made.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
        painter.setPen(made)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if is_vector(painter):
            painter.drawPath(path_of(middle, closed=True))
        else:
            painter.drawLines(lines_along(middle, closed=True))


def _hatch(layer: Outlines, rings: Rings, painter: QPainter, view: View) -> None:
    assert layer.hatch is not None
    hatch = layer.hatch
    reach = view.size(16, 4)
    area = shapely.make_valid(area_of(rings, holes=layer.holes))
    area = area.intersection(shapely.box(-reach, -reach, view.width + reach, view.height + reach))
    if area.is_empty:
        return
    shapely.prepare(area)
    painter.setPen(pen(hatch.colour, view.size(hatch.width.px, hatch.width.mm), Qt.PenCapStyle.FlatCap))
    for angle in (hatch.angle_deg, -hatch.angle_deg) if hatch.crossed else (hatch.angle_deg,):
        lines = shapely.linestrings(_lines(area.bounds, hatch, angle, view))
        found = lines_of(np.asarray(shapely.intersection(lines, area)))
        if is_vector(painter):
            painter.drawPath(path_of(found, closed=False))
        else:
            painter.drawLines(lines_along(found, closed=False))


def _lines(
    bounds: tuple[float, float, float, float], hatch: Hatch, angle_deg: float, view: View
) -> NDArray[np.float64]:
    """Return hatch lines over bounds in device units, (n, 2, 2); they lie still on the ground at one scale."""
    every = view.size(hatch.every.px, hatch.every.mm)
    angle = math.radians(angle_deg)
    along, across = np.array([math.cos(angle), -math.sin(angle)]), np.array([math.sin(angle), math.cos(angle)])
    left, top, right, bottom = bounds
    corners = np.array([[left, top], [right, top], [right, bottom], [left, bottom]])
    anchor = float(view.to_device(np.zeros((1, 2)))[0] @ across)
    low, high = (corners @ across).min(), (corners @ across).max()
    at = np.arange(math.ceil((low - anchor) / every), math.floor((high - anchor) / every) + 1) * every + anchor
    ends = (corners @ along).min(), (corners @ along).max()
    return np.stack([at[:, None] * across + end * along for end in ends], axis=1)
