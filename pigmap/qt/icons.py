"""Icons: one family of line drawings, coloured from the tokens when they are drawn."""

from __future__ import annotations

from functools import cache

from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from pigmap.paths import resource

_BORROWED = {
    "undo": "undo-2",
    "redo": "redo-2",
    "find": "search",
    "more": "menu",
    "water": "droplet",
    "energizer": "zap",
    "vehicle": "truck",
    "weather": "thermometer-sun",
    "care": "triangle-alert",
    "refused": "ban",
    "close": "x",
    "plus": "plus",
    "minus": "minus",
    "open": "chevron-down",
}
OWN = (
    "pick",
    "draw",
    "place",
    "check",
    "measure",
    "layout",
    "plan",
    "moves",
    "sheet",
    "roof",
    "gate",
    "paddock",
    "post",
    "spare",
    "shared",
    "far",
    "pole",
    "pig",
)
NAMES: tuple[str, ...] = (*OWN, *_BORROWED)
"""Names of all icons."""


@cache
def _drawing(name: str) -> str:
    path = resource("icons", "borrowed", f"{_BORROWED[name]}.svg") if name in _BORROWED else None
    return (path or resource("icons", f"{name}.svg")).read_text(encoding="utf-8")


@cache
def _renderer(name: str, colour: str) -> QSvgRenderer:
    return QSvgRenderer(QByteArray(_drawing(name).replace("currentColor", colour).encode()))


def paint_icon(painter: QPainter, name: str, box: QRectF, colour: str) -> None:
    """Draw an icon into a square."""
    _renderer(name, colour).render(painter, box)


@cache
def icon_pixmap(name: str, pixels: int, colour: str, density: float = 1.0) -> QPixmap:
    """Return an icon as a picture of `pixels` at scale 1, sharp on a screen of that density."""
    side = max(1, round(pixels * density))
    made = QPixmap(side, side)
    made.fill(Qt.GlobalColor.transparent)
    with QPainter(made) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint_icon(painter, name, QRectF(0, 0, side, side), colour)
    made.setDevicePixelRatio(density)
    return made


def icon(name: str, pixels: int, colour: str) -> QIcon:
    """Return an icon for a button, in the sharpness of common screens."""
    made = QIcon()
    for density in (1.0, 2.0):
        made.addPixmap(icon_pixmap(name, pixels, colour, density))
    return made
