"""Arrays of corners into Qt's paths and pens, without a call for every corner."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QByteArray, QDataStream, QIODevice, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPaintEngine, QPainter, QPainterPath, QPen, QPolygonF

from pigmap.drawing.layer import Stroke
from pigmap.drawing.rings import Rings
from pigmap.drawing.tokens import rgb
from pigmap.drawing.view import View

_ELEMENT = np.dtype([("kind", ">i4"), ("x", ">f8"), ("y", ">f8")])
DOT = 0.1
"""A stroke shorter than this is a round dot [px]."""
_VECTOR = (QPaintEngine.Type.Pdf, QPaintEngine.Type.SVG, QPaintEngine.Type.Picture)


def colour(name: str) -> QColor:
    """Return the colour of ``#RRGGBB`` or ``#RRGGBBAA``."""
    return QColor(*rgb(name))


def is_vector(painter: QPainter) -> bool:
    """Whether the painter writes shapes to a file instead of colouring pixels."""
    return painter.paintEngine().type() in _VECTOR


def density(painter: QPainter) -> float:
    """Return device pixels in one of the painter's units."""
    turned = painter.deviceTransform()
    return float(np.hypot(turned.m11(), turned.m12()))


def clipped(painter: QPainter, view: View) -> View:
    """Return the part of a view that a painter may colour: what lies beside it need not be drawn."""
    if not painter.hasClipping():
        return view
    part = painter.clipBoundingRect().intersected(QRectF(0.0, 0.0, view.width, view.height))
    if part.isEmpty():
        return replace(view, width=0.0, height=0.0)
    x, y = view.to_ground(part.center().x(), part.center().y())
    return replace(view, centre_x_m=x, centre_y_m=y, width=part.width(), height=part.height())


def path_of(rings: Rings, *, closed: bool) -> QPainterPath:
    """Return lines or rings in device units as one path."""
    points, starts = rings
    path = QPainterPath()
    if not len(points):
        return path
    if closed:
        points, starts = _closed(points, starts)
    elements = np.empty(len(points), dtype=_ELEMENT)
    elements["kind"] = 1
    elements["kind"][starts[:-1]] = 0
    elements["x"], elements["y"] = points[:, 0], points[:, 1]
    count = len(points).to_bytes(4, "big")
    packed = QByteArray(count + elements.tobytes() + int(starts[-2]).to_bytes(4, "big") + (0).to_bytes(4, "big"))
    stream = QDataStream(packed, QIODevice.OpenModeFlag.ReadOnly)
    stream >> path
    return path


def _closed(points: NDArray[np.float64], starts: NDArray[np.int64]) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    counts = np.diff(starts) + 1
    ends = np.cumsum(counts)
    closed = np.empty((int(ends[-1]), 2))
    begins = ends - counts
    inner = np.ones(len(closed), dtype=np.bool_)
    inner[ends - 1] = False
    closed[inner] = points
    closed[ends - 1] = points[starts[:-1]]
    return closed, np.concatenate([begins, ends[-1:]])


def bounds_of(rings: Rings) -> NDArray[np.float64]:
    """Return west, south, east and north of each ring, (4, n)."""
    if not len(rings.points):
        return np.empty((4, 0))
    first = rings.starts[:-1]
    low, high = np.minimum.reduceat(rings.points, first), np.maximum.reduceat(rings.points, first)
    return np.ascontiguousarray(np.hstack([low, high]).T)


def rings_near(bounds: NDArray[np.float64], view: View, margin: float) -> NDArray[np.int64]:
    """Return which rings reach into a view or within a margin of it [device units], by their bounds."""
    reach = margin * view.metres_per_unit
    west, south, east, north = view.bounds
    there = (bounds[0] <= east + reach) & (bounds[2] >= west - reach)
    there &= (bounds[1] <= north + reach) & (bounds[3] >= south - reach)
    return np.flatnonzero(there)


def rings_in_view(rings: Rings, bounds: NDArray[np.float64], view: View, margin: float) -> Rings:
    """Return rings in device units, without those that lie wholly out of view."""
    chosen = rings_near(bounds, view, margin)
    if len(chosen) == bounds.shape[1]:
        return Rings(view.to_device(rings.points), rings.starts)
    counts = np.diff(rings.starts)[chosen]
    starts = np.concatenate([[0], np.cumsum(counts)]).astype(np.int64)
    where = np.arange(starts[-1]) + np.repeat(rings.starts[chosen] - starts[:-1], counts)
    return Rings(view.to_device(rings.points[where]), starts)


def polygon(points: NDArray[np.float64]) -> QPolygonF:
    """Return corners as a polygon."""
    return QPolygonF([QPointF(x, y) for x, y in points.tolist()])


def pens(stroke: Stroke, view: View, painter: QPainter) -> tuple[QPen, ...]:
    """Return the pens of a stroke from below to above: its casing, if it has one, and its core."""
    width = view.size(stroke.width.px, stroke.width.mm)
    found = []
    if stroke.casing:
        found.append(pen(stroke.casing, view.size(stroke.casing_width.px, stroke.casing_width.mm)))
    core = pen(stroke.colour, width)
    if stroke.dash:
        set_dashes(core, [length * width / stroke.width.px for length in stroke.dash], painter)
        core.setCapStyle(Qt.PenCapStyle.RoundCap if stroke.dash[0] < DOT else Qt.PenCapStyle.FlatCap)
    return (*found, core)


def set_dashes(made: QPen, lengths: Sequence[float], painter: QPainter) -> None:
    """Give a pen strokes and spaces of some lengths in the painter's units.

    A pattern counts in breadths of the pen; the writer of SVG (Qt 6.11) rounds that breadth, and takes 1 for 0.
    """
    in_svg = painter.paintEngine().type() == QPaintEngine.Type.SVG
    breadth = (made.width() or 1) if in_svg else made.widthF()
    made.setDashPattern([length / breadth for length in lengths])


def pen(name: str, width: float, cap: Qt.PenCapStyle = Qt.PenCapStyle.RoundCap) -> QPen:
    """Return a pen with round joins."""
    return QPen(colour(name), width, Qt.PenStyle.SolidLine, cap, Qt.PenJoinStyle.RoundJoin)
