"""Paint clods: stamped into pixels, or as shapes where a file of shapes is written."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cache
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QImage, QPainter

from pigmap.drawing.clods import ASPECT, PATCH, Clods, clods_in, patches
from pigmap.drawing.layer import Cells
from pigmap.drawing.rings import Rings
from pigmap.drawing.tokens import CLOD_COLOUR, HOLLOW_FACTOR, HOLLOW_STROKE_PX, rgb
from pigmap.drawing.view import PIXEL_MM, View
from pigmap.qt.painter_paths import colour, density, is_vector, path_of, pen
from pigmap.qt.pixel_frame import rects

_TURNS = 12
_CORNERS = 12
_AROUND = 6.0
"""Room around the outermost clods [device units]."""
_MOST_IN_A_PATH = 2_000
_FEW = 2
"""What may be coloured in fewer rectangles than these is looked at as a whole."""


def paint_clods(layer: Cells, painter: QPainter, view: View) -> None:
    """Paint the clods over the cells of one field: seen ones filled, computed ones hollow."""
    if layer.clods is None:
        return
    found = clods_in(layer, view, _wanted(painter, view))
    if not found:
        return
    if is_vector(painter):
        _draw(found, painter, view)
    else:
        _stamp(found, painter, view)


def _wanted(painter: QPainter, view: View) -> NDArray[np.bool_] | None:
    """Return the patches of a view whose clods reach into what may be coloured; None for all of them."""
    if is_vector(painter) or not painter.hasClipping():
        return None
    clip = painter.clipRegion()
    if clip.rectCount() < _FEW:
        return None
    wanted = patches(view)
    edges = np.array([rect.getCoords() for rect in rects(clip)]) + np.array([-1, -1, 1, 1]) * _AROUND
    for left, top, right, bottom in np.maximum(edges // PATCH, 0).astype(np.int64).tolist():
        wanted[top : bottom + 1, left : right + 1] = True
    return wanted


def _draw(found: dict[int, Clods], painter: QPainter, view: View) -> None:
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for clods in found.values():
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour(CLOD_COLOUR))
        for part in _parts(_ellipses(clods, seen=True)):
            painter.drawPath(path_of(part, closed=True))
        painter.setPen(pen(CLOD_COLOUR, view.size(HOLLOW_STROKE_PX, HOLLOW_STROKE_PX * PIXEL_MM)))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for part in _parts(_ellipses(clods, seen=False)):
            painter.drawPath(path_of(part, closed=True))


def _parts(rings: Rings) -> Iterator[Rings]:
    """Yield ellipses in parts; readers of SVG (Qt 6.11) leave out what comes after 32,767 points of one path."""
    for start in range(0, len(rings.starts) - 1, _MOST_IN_A_PATH):
        starts = rings.starts[start : start + _MOST_IN_A_PATH + 1]
        yield Rings(rings.points[starts[0] : starts[-1]], starts - starts[0])


def _ellipses(clods: Clods, *, seen: bool) -> Rings:
    chosen = clods.seen if seen else ~clods.seen
    spots, turned = clods.spots[chosen], np.radians(clods.turned_deg[chosen])
    radius = clods.radius * (1.0 if seen else HOLLOW_FACTOR)
    round_it = np.arange(_CORNERS) * (2 * math.pi / _CORNERS)
    long, wide = radius * math.sqrt(ASPECT) * np.cos(round_it), radius / math.sqrt(ASPECT) * np.sin(round_it)
    cos, sin = np.cos(turned)[:, None], np.sin(turned)[:, None]
    corners = np.stack([long * cos - wide * sin, long * sin + wide * cos], axis=-1) + spots[:, None, :]
    return Rings(corners.reshape(-1, 2), np.arange(len(spots) + 1, dtype=np.int64) * _CORNERS)


def _stamp(found: dict[int, Clods], painter: QPainter, view: View) -> None:
    """Copy small pictures of clods into one sheet of alpha and draw that."""
    fine = density(painter)
    low = np.floor(np.min([clods.spots.min(axis=0) for clods in found.values()], axis=0)) - _AROUND
    high = np.ceil(np.max([clods.spots.max(axis=0) for clods in found.values()], axis=0)) + _AROUND
    columns, rows = (int(length) for length in np.ceil((high - low) * fine))
    alpha = np.zeros(rows * columns, dtype=np.uint8)
    for clods in found.values():
        _copy(clods, alpha, columns, low, fine, view)
    image = QImage(cast("Any", alpha.data), columns, rows, columns, QImage.Format.Format_Indexed8)
    image.setColorTable(_shades())
    painter.drawImage(QRectF(low[0], low[1], columns / fine, rows / fine), image)


def _copy(
    clods: Clods, alpha: NDArray[np.uint8], columns: int, low: NDArray[np.float64], fine: float, view: View
) -> None:
    stroke = view.size(HOLLOW_STROKE_PX, HOLLOW_STROKE_PX * PIXEL_MM) * fine
    stamps = _stamps(round(clods.radius * fine, 3), round(stroke, 3))
    side = stamps.shape[-1]
    corner = np.rint((clods.spots - low) * fine).astype(np.int64)
    first = (corner[:, 1] - side // 2) * columns + corner[:, 0] - side // 2
    which = (clods.turned_deg * (_TURNS / 180)).astype(np.int64) % _TURNS + clods.seen * _TURNS
    flat = stamps.reshape(2 * _TURNS, -1)
    for row in range(side):  # a row at a time: a quarter of the memory, and faster for it
        where = first[:, None] + np.arange(side) + row * columns
        alpha[where] = np.maximum(alpha[where], flat[which, row * side : (row + 1) * side])


@cache
def _shades() -> list[int]:
    """Return the colour of clods with each alpha, as alpha, red, green, blue in one number each, (256,)."""
    red, green, blue, _ = (int(part) for part in rgb(CLOD_COLOUR))
    return [alpha << 24 | red << 16 | green << 8 | blue for alpha in range(256)]


@cache
def _stamps(radius: float, stroke: float) -> NDArray[np.uint8]:
    """Return pictures of clods: hollow and filled, in each direction, (2, turns, side, side)."""
    half = math.ceil(radius * HOLLOW_FACTOR * math.sqrt(ASPECT) + stroke / 2 - 0.5)
    side = 2 * half + 1
    made = np.zeros((2, _TURNS, side, side), dtype=np.uint8)
    for seen in (0, 1):
        for turn in range(_TURNS):
            made[seen, turn] = _stamp_of(radius, stroke, side, bool(seen), 180 / _TURNS * (turn + 0.5))
    return made


def _stamp_of(radius: float, stroke: float, side: int, seen: bool, turned_deg: float) -> NDArray[np.uint8]:
    image = QImage(side, side, QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(Qt.GlobalColor.transparent)
    with QPainter(image) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.translate(side / 2, side / 2)
        painter.rotate(turned_deg)
        grown = radius * (1.0 if seen else HOLLOW_FACTOR)
        painter.setPen(Qt.PenStyle.NoPen if seen else pen("#000000", stroke))
        painter.setBrush(Qt.GlobalColor.black if seen else Qt.BrushStyle.NoBrush)
        painter.drawEllipse(QPointF(0, 0), grown * math.sqrt(ASPECT), grown / math.sqrt(ASPECT))
    packed = np.frombuffer(cast("Any", image.constBits()), dtype=np.uint8).reshape(side, -1, 4)
    return packed[:, :side, 3].copy()
