"""Paint the sign of unknown ground: small question marks, each painted once and then copied."""

from __future__ import annotations

import math
from functools import lru_cache

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QImage, QPainter

from pigmap.drawing.layer import Cells
from pigmap.drawing.letters import CAP_HEIGHT
from pigmap.drawing.tokens import CASING, DARK, MAP_INK
from pigmap.drawing.unknown import MARK, unknown_spots
from pigmap.drawing.view import View
from pigmap.qt.painter_paths import density, is_vector
from pigmap.qt.painter_words import write_words

INK = f"{MAP_INK}B8"
INK_ON_DARK = f"{DARK.ink}B8"
HALO_PX, HALO_MM = 1.3, 0.3


def paint_unknown(layer: Cells, painter: QPainter, view: View, *, dark: bool = False) -> None:
    """Paint the marks over the cells of one field that nobody knows anything of; on dark ground in light."""
    spots = unknown_spots(layer, view)
    if not len(spots):
        return
    if is_vector(painter) or view.paper:
        for x, y in spots.tolist():
            _mark(painter, x, y, view, dark)
        return
    image = _sprite(density(painter), dark)
    half = image.width() / image.devicePixelRatio() / 2
    for x, y in spots.tolist():
        painter.drawImage(QPointF(round(x) - half, round(y) - half), image)


def _mark(painter: QPainter, x: float, y: float, view: View, dark: bool) -> None:
    size = view.size(*MARK)
    write_words(
        painter,
        x,
        y + size * CAP_HEIGHT / 2,
        "?",
        size,
        weight=600,
        name=INK_ON_DARK if dark else INK,
        align="centre",
        halo=view.size(HALO_PX, HALO_MM),
        rim=DARK.paper if dark else CASING,
        paper=view.paper,
    )


@lru_cache(maxsize=4)
def _sprite(fine: float, dark: bool) -> QImage:
    side = math.ceil(MARK.px * fine / 2) * 2 + round(4 * fine)
    image = QImage(side, side, QImage.Format.Format_ARGB32_Premultiplied)
    image.setDevicePixelRatio(fine)
    image.fill(Qt.GlobalColor.transparent)
    with QPainter(image) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        _mark(painter, side / fine / 2, side / fine / 2, View(0.0, 0.0, 1.0, side / fine, side / fine), dark)
    return image
