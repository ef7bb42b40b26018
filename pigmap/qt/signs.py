"""Signs on the map, each drawn about the origin in its own breadth, upwards to the north."""

from __future__ import annotations

import math
from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPolygonF

from pigmap.drawing.tokens import ENERGIZER
from pigmap.qt.icons import paint_icon
from pigmap.qt.painter_paths import colour, pen, set_dashes
from pigmap.records.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Brush:
    """How one sign is drawn: its breadth, its colours and the breadth of the casing on each side."""

    size: float
    colour: str
    casing: str
    casing_width: float
    value: int = 0


Sign = Callable[[QPainter, Brush], None]


def _dot(painter: QPainter, brush: Brush) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    for name, radius in ((brush.casing, brush.size / 2 + brush.casing_width), (brush.colour, brush.size / 2)):
        painter.setBrush(colour(name))
        painter.drawEllipse(QPointF(0, 0), radius, radius)


def _cased(painter: QPainter, path: QPainterPath, brush: Brush, width: float) -> None:
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for name, breadth in ((brush.casing, width + 2 * brush.casing_width), (brush.colour, width)):
        painter.setPen(pen(name, breadth))
        painter.drawPath(path)


def _link(painter: QPainter, brush: Brush) -> None:
    radius, apart = brush.size * 0.29, brush.size * 0.21
    path = QPainterPath()
    for at in (-apart, apart):
        path.addEllipse(QPointF(at, 0), radius, radius)
    painter.setPen(pen(brush.casing, brush.size * 0.125 + 2 * brush.casing_width))
    painter.setBrush(colour(brush.casing))
    painter.drawPath(path)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(pen(brush.colour, brush.size * 0.125))
    painter.drawPath(path)


def _bracket(painter: QPainter, brush: Brush) -> None:
    arm = brush.size
    path = QPainterPath()
    path.addPolygon(QPolygonF([QPointF(-arm, 0), QPointF(0, 0), QPointF(0, arm)]))
    painter.rotate(45)  # its corner points along the first axis
    painter.translate(arm * 0.3, -arm * 0.3)
    for name, breadth in ((brush.casing, arm * 0.28 + 2 * brush.casing_width), (brush.colour, arm * 0.28)):
        made = pen(name, breadth, Qt.PenCapStyle.SquareCap)
        made.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
        painter.setPen(made)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(path)


def _cross(painter: QPainter, brush: Brush) -> None:
    half = brush.size / 2
    path = QPainterPath(QPointF(-half, -half))
    path.lineTo(half, half)
    path.moveTo(-half, half)
    path.lineTo(half, -half)
    _cased(painter, path, brush, brush.size * 0.2)


def _plus(painter: QPainter, brush: Brush) -> None:
    half = brush.size / 2
    path = QPainterPath(QPointF(-half, 0))
    path.lineTo(half, 0)
    path.moveTo(0, -half)
    path.lineTo(0, half)
    _cased(painter, path, brush, brush.size * 0.05)


def _ring(painter: QPainter, brush: Brush) -> None:
    path = QPainterPath()
    path.addEllipse(QPointF(0, 0), brush.size / 2, brush.size / 2)
    _cased(painter, path, brush, brush.size * 0.1)


def _pole(painter: QPainter, brush: Brush) -> None:
    arm = QPainterPath(QPointF(0, -brush.size / 2))
    arm.lineTo(0, brush.size / 2)
    _cased(painter, arm, brush, brush.size * 0.15)
    _dot(painter, Brush(brush.size * 0.62, brush.colour, brush.casing, brush.casing_width))


_BOLT = ((0.1, -0.5), (-0.3, 0.08), (-0.02, 0.08), (-0.1, 0.5), (0.3, -0.1), (0.04, -0.1))


def _bolt_path(size: float) -> QPainterPath:
    path = QPainterPath()
    path.addPolygon(QPolygonF([QPointF(x * size, y * size) for x, y in _BOLT]))
    path.closeSubpath()
    return path


def _bolt(painter: QPainter, brush: Brush) -> None:
    path = _bolt_path(brush.size)
    painter.setPen(pen(brush.casing, 2 * brush.casing_width))
    painter.setBrush(colour(brush.casing))
    painter.drawPath(path)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour(brush.colour))
    painter.drawPath(path)


def _gate(painter: QPainter, brush: Brush) -> None:
    """Two posts and a leaf swung open; `size` is the distance of the posts."""
    size, half = brush.size, brush.size / 2
    open_rad = math.radians(52)
    leaf = QPainterPath(QPointF(-half, 0))
    leaf.lineTo(-half + size * math.cos(open_rad), -size * math.sin(open_rad))
    _cased(painter, leaf, brush, size * 0.13)
    arc = QPainterPath()
    reach = QRectF(-half - size, -size, 2 * size, 2 * size)
    arc.arcMoveTo(reach, 0)
    arc.arcTo(reach, 0, 52)
    dotted = pen(brush.colour, size * 0.07)
    set_dashes(dotted, (size * 0.007, size * 0.154), painter)
    painter.setPen(dotted)
    painter.drawPath(arc)
    post = size * 0.3
    painter.setPen(pen(brush.casing, 2 * brush.casing_width))
    painter.setBrush(colour(brush.colour))
    for pass_pen in (True, False):
        painter.setPen(pen(brush.casing, 2 * brush.casing_width) if pass_pen else Qt.PenStyle.NoPen)
        for at in (-half, half):
            painter.drawRect(QRectF(at - post / 2, -post / 2, post, post))


def _energizer(painter: QPainter, brush: Brush) -> None:
    half = brush.size / 2
    path = QPainterPath()
    path.addPolygon(QPolygonF([QPointF(0, -half), QPointF(half, 0), QPointF(0, half), QPointF(-half, 0)]))
    path.closeSubpath()
    painter.setPen(pen(brush.casing, 2 * brush.casing_width + brush.size * 0.06))
    painter.setBrush(colour(ENERGIZER))
    painter.drawPath(path)
    painter.setPen(pen(brush.colour, brush.size * 0.06))
    painter.drawPath(path)
    paint_icon(painter, "energizer", _box(brush.size * 0.5), brush.colour)


def _disc_with(icon: str) -> Sign:
    def draw(painter: QPainter, brush: Brush) -> None:
        painter.setPen(pen(brush.colour, brush.size * 0.075))
        painter.setBrush(colour(brush.casing))
        painter.drawEllipse(QPointF(0, 0), brush.size / 2, brush.size / 2)
        paint_icon(painter, icon, _box(brush.size * 0.62), brush.colour)

    return draw


def _disc_drawn(*strokes: tuple[tuple[float, float], ...]) -> Sign:
    """Return a sign of a few lines in a white disc; places in shares of its breadth, from its middle."""

    def draw(painter: QPainter, brush: Brush) -> None:
        painter.setPen(pen(brush.colour, brush.size * 0.075))
        painter.setBrush(colour(brush.casing))
        painter.drawEllipse(QPointF(0, 0), brush.size / 2, brush.size / 2)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(pen(brush.colour, brush.size * 0.09))
        for each in strokes:
            painter.drawPolyline(QPolygonF([QPointF(x * brush.size, y * brush.size) for x, y in each]))

    return draw


_HUT = _disc_drawn(
    ((-0.27, 0.02), (0.0, -0.25), (0.27, 0.02)), ((-0.19, -0.04), (-0.19, 0.24), (0.19, 0.24), (0.19, -0.04))
)
_FEEDER = _disc_drawn(((-0.3, -0.1), (-0.18, 0.18), (0.18, 0.18), (0.3, -0.1)), ((-0.21, 0.03), (0.21, 0.03)))
_WALLOW = _disc_drawn(*(((-0.28, y), (-0.14, y - 0.1), (0.0, y), (0.14, y + 0.1), (0.28, y)) for y in (-0.09, 0.11)))
_GOT_OUT = _disc_drawn(((-0.24, 0.24), (0.2, -0.2)), ((-0.08, -0.22), (0.22, -0.22), (0.22, 0.08)))

_PHOTO = _disc_drawn(
    ((-0.28, 0.2), (-0.28, -0.14), (-0.12, -0.14), (-0.07, -0.22), (0.07, -0.22), (0.12, -0.14), (0.28, -0.14)),
    ((0.28, -0.14), (0.28, 0.2), (-0.28, 0.2)),
    ((0.0, -0.07), (0.09, 0.03), (0.0, 0.13), (-0.09, 0.03), (0.0, -0.07)),
)


def _check(painter: QPainter, brush: Brush) -> None:
    """Draw a white square with a clod for each quarter that is rooted."""
    box = _box(brush.size)
    painter.setPen(pen(brush.colour, brush.size * 0.08))
    painter.setBrush(colour(brush.casing))
    painter.drawRoundedRect(box, brush.size * 0.12, brush.size * 0.12)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour(brush.colour))
    apart, radius = brush.size * 0.2, brush.size * 0.12
    for x, y in ((-1, -1), (1, 1), (1, -1), (-1, 1))[: brush.value]:
        painter.drawEllipse(QPointF(x * apart, y * apart), radius * 1.1, radius * 0.9)


def _tree(painter: QPainter, brush: Brush) -> None:
    _dot(painter, Brush(brush.size, "#3F6B2A", brush.casing, brush.casing_width))
    _dot(painter, Brush(brush.size * 0.3, brush.colour, "#3F6B2A", 0))


def _north(painter: QPainter, brush: Brush) -> None:
    half = brush.size / 2
    path = QPainterPath()
    path.addPolygon(
        QPolygonF([QPointF(0, -half), QPointF(half * 0.62, half), QPointF(0, half * 0.55), QPointF(-half * 0.62, half)])
    )
    path.closeSubpath()
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour(brush.colour))
    painter.drawPath(path)


def _box(side: float) -> QRectF:
    return QRectF(-side / 2, -side / 2, side, side)


SIGNS: dict[str, Sign] = {
    "dot": _dot,
    "link": _link,
    "bracket": _bracket,
    "cross": _cross,
    "plus": _plus,
    "ring": _ring,
    "pole": _pole,
    "bolt": _bolt,
    "gate": _gate,
    "energizer": _energizer,
    "water point": _disc_with("water"),
    "shade": _disc_with("roof"),
    "hut": _HUT,
    "feeder": _FEEDER,
    "drinker": _disc_with("water"),
    "wallow": _WALLOW,
    "got out": _GOT_OUT,
    "photo": _PHOTO,
    "shed": _disc_with("roof"),
    "loading place": _disc_with("vehicle"),
    "earth rod": _disc_with("post"),
    "tree": _tree,
    "check": _check,
    "north": _north,
}
"""How each sign of a layer of marks is drawn; the upright of a place's kind is the kind itself."""


def draw_sign(painter: QPainter, name: str, brush: Brush) -> None:
    """Draw a sign about the painter's origin."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    SIGNS[name](painter, brush)
