"""Paint words on the map: names with a halo, plates, numbers; each is painted once and then copied."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache, partial

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QImage, QPaintEngine, QPainter

from pigmap.drawing.label_looks import LOOKS, SIGN_MM, SIGN_PX, Sized, stacked
from pigmap.drawing.labels import Decluttering, Set
from pigmap.drawing.layer import Labels
from pigmap.drawing.letters import CAP_HEIGHT, breadth
from pigmap.drawing.page import Align
from pigmap.drawing.tokens import CASING, DARK, GROUP_SIGNS, LIGHT, MAP_INK, MAP_PLAN
from pigmap.drawing.view import View
from pigmap.qt.fonts import font
from pigmap.qt.group_sign import draw_group_sign
from pigmap.qt.painter_paths import clipped, colour, density, is_vector, pen
from pigmap.qt.painter_words import write_words

HALO_PX, HALO_MM = 1.6, 0.45
_SPACE_PX = 8


def paint_labels(layer: Labels, painter: QPainter, view: View, *, dark: bool = False) -> None:
    """Paint a layer of labels, on dark ground names in light letters; which find room depends on the scale alone."""
    placing = _placing(layer, view.metres_per_unit, view.paper)
    placing.go_on(math.inf)
    fine, direct = density(painter), is_vector(painter) or view.paper
    for each, left, top in placing.in_view(view, clipped(painter, view)):
        if direct:
            painter.save()
            painter.translate(left, top)
            _draw(each, painter, paper=view.paper, dark=dark)
            painter.restore()
        else:
            image = _sprite(each, fine, dark)
            painter.drawImage(QPointF(left - _SPACE_PX, top - _SPACE_PX), image)


def find_room(layer: Labels, view: View, until: float) -> bool:
    """Find out which labels have room until a time of `time.perf_counter`; return whether it is done.

    Painting does it too, at a stretch: a map that must stay smooth calls this first.
    """
    return _placing(layer, view.metres_per_unit, view.paper).go_on(until)


class _Placing:
    """Which labels of a layer have room at a scale, and where they lie."""

    def __init__(self, layer: Labels, metres_per_unit: float, paper: bool) -> None:
        self._work = Decluttering(_sized(layer, paper), View(0.0, 0.0, metres_per_unit, 0.0, 0.0, paper))
        self._done = False
        self._unit = metres_per_unit
        self._edges: tuple[NDArray[np.float64], ...] = ()
        """Left, top, right and bottom of each, in units of the device from the corner of the farm's grid."""

    def go_on(self, until: float) -> bool:
        """Search until then; return whether it is done."""
        if not self._done and self._work.go_on(until):
            self._done = True
            self._edges = tuple(np.array(self._work.edges).reshape(-1, 4).T.copy())
        return self._done

    def in_view(self, view: View, part: View) -> Iterator[tuple[Set, float, float]]:
        """Yield those that reach into a part of a view, and where their left upper corners lie in the view."""
        left, top, right, bottom = self._edges
        x, y = _corner(part, self._unit)
        seen = (left <= x + part.width + 9) & (right >= x - 9) & (top <= y + part.height + 9) & (bottom >= y - 9)
        x, y = _corner(view, self._unit)
        for index in np.flatnonzero(seen).tolist():
            placed = self._work.at(index)
            if placed.label.look != "clear":
                yield placed, float(left[index]) - x, float(top[index]) - y


def _corner(view: View, metres_per_unit: float) -> tuple[float, float]:
    """Return how far the upper left corner of a view is from that of the farm's grid [device units]."""
    return view.centre_x_m / metres_per_unit - view.width / 2, -view.centre_y_m / metres_per_unit - view.height / 2


@lru_cache(maxsize=32)
def _placing(layer: Labels, metres_per_unit: float, paper: bool) -> _Placing:
    return _Placing(layer, metres_per_unit, paper)


@lru_cache(maxsize=8)
def _sized(layer: Labels, paper: bool) -> Sized:
    return Sized(layer.labels, paper=paper)


@lru_cache(maxsize=1024)
def _sprite(each: Set, fine: float, dark: bool) -> QImage:
    wide, high = (math.ceil((length + 2 * _SPACE_PX) * fine) for length in (each.width, each.height))
    image = QImage(wide, high, QImage.Format.Format_ARGB32_Premultiplied)
    image.setDevicePixelRatio(fine)
    image.fill(Qt.GlobalColor.transparent)
    with QPainter(image) as painter:
        painter.translate(_SPACE_PX, _SPACE_PX)
        _draw(each, painter, paper=False, dark=dark)
    return image


def _draw(each: Set, painter: QPainter, *, paper: bool, dark: bool) -> None:
    look, label = LOOKS[each.label.look], each.label
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    bare = label.look in ("name", "quiet")
    ink, rim = (DARK.ink, DARK.paper) if bare and dark else (_plate(each, painter, paper), CASING)
    pad = look.pad_mm if paper else look.pad_px
    left = pad
    if label.sign:
        side = SIGN_MM if paper else SIGN_PX
        paint_sign(label.sign, painter, QRectF(left if each.words else pad / 2, (each.height - side) / 2, side, side))
        left += side + pad
    if not each.words:
        return
    size, second = (look.size_mm, look.second_mm) if paper else (look.size_px, look.second_px)
    halo = (HALO_MM if paper else HALO_PX) if bare else 0.0
    below = each.second and stacked(label)
    baseline = each.height / 2 + size * CAP_HEIGHT / 2 - (second * 0.6 if below else 0.0)
    centred = not label.sign and label.look != "name"
    x = each.width / 2 if centred else left
    align: Align = "centre" if centred else "left"
    write = partial(write_words, painter, halo=halo, rim=rim, paper=paper)
    room = breadth(each.words, size, look.weight)
    write(x, baseline, each.words, size, weight=look.weight, name=ink, align=align, room=room)
    if each.second:
        room = breadth(each.second, second, look.second_weight)
        from_x = x if below else left + each.width - 2 * pad - room
        write(
            from_x,
            baseline + (second * 1.2 if below else 0.0),
            each.second,
            second,
            weight=look.second_weight,
            name=ink if bare else LIGHT.ink2,
            align=align if below else "left",
            room=room,
        )


def _plate(each: Set, painter: QPainter, paper: bool) -> str:
    """Draw what lies under the words; return the colour of the words."""
    look, px = each.label.look, 0.21 if paper else 1.0
    box = QRectF(0, 0, each.width, each.height)
    if look in ("name", "quiet"):
        return MAP_INK
    if look == "letter":
        _round(painter, box, MAP_INK, CASING, 1.2 * px, each.height / 2)
        return CASING
    if look == "plate" and not paper:
        _shadow(painter, box)
    planned = look in ("plan plate", "plan number")
    edge = MAP_PLAN if planned else "" if look == "plate" and not paper else MAP_INK
    radius = {"plate": 6.0, "plan plate": 6.0}.get(look, 3.0) * px
    _round(painter, box, CASING, edge, (1.4 if planned else 1.1) * px, radius)
    return MAP_PLAN if planned else MAP_INK


def _round(painter: QPainter, box: QRectF, fill: str, edge: str, line: float, radius: float) -> None:
    painter.setPen(pen(edge, line) if edge else Qt.PenStyle.NoPen)
    painter.setBrush(colour(fill))
    painter.drawRoundedRect(box, radius, radius)


def _shadow(painter: QPainter, box: QRectF) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    for grown, alpha in ((1.0, "1A"), (2.5, "10"), (4.0, "0A")):
        painter.setBrush(colour(f"#000000{alpha}"))
        painter.drawRoundedRect(box.adjusted(-grown, 1 - grown, grown, 1 + grown), 6 + grown, 6 + grown)


def paint_sign(sign: str, painter: QPainter, box: QRectF) -> None:
    """Draw a group's sign (``group 0 D``); large, then scaled, since its letter comes in whole pixels."""
    _, index, *letter = sign.split(" ")
    painter.save()
    painter.translate(box.x(), box.y())
    painter.scale(box.width() / 100, box.height() / 100)
    in_shapes = painter.paintEngine().type() == QPaintEngine.Type.SVG
    draw_group_sign(painter, QRectF(0, 0, 100, 100), int(index), "" if in_shapes else "".join(letter), font(50, 700))
    if in_shapes:  # a file that cannot carry its font
        ink = GROUP_SIGNS[int(index)].letter
        write_words(painter, 50, 50 + 50 * CAP_HEIGHT / 2, "".join(letter), 50, weight=700, name=ink, align="centre")
    painter.restore()
