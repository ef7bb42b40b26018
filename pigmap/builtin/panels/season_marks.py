"""Marks in the rows of the season strip for what rules a day: withdrawal, a sow that is due, pigs that are booked."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from pigmap.builtin.panels.season_rows import Strip
from pigmap.planning.coming import Coming, Sort, coming_of
from pigmap.qt.stage import Stage
from pigmap.qt.theme import tokens
from pigmap.records import Farm

SIDE = 9.0
"""Breadth of a mark [px]."""
HIT = 8.0
"""How near the pointer is to a mark that it asks about [px]."""


class Mark(NamedTuple):
    """One mark: what it says, and where it lies in the strip [px]."""

    coming: Coming
    box: QRectF


def marks(farm: Farm, strip: Strip) -> Iterator[Mark]:
    """Yield the marks in view."""
    for at, group in enumerate(strip.rows):
        top = strip.top + at * strip.row
        for each in coming_of(farm, group.uid):
            left = strip.scale.x_of(each.since)
            right = strip.scale.x_of(each.day) if each.sort is Sort.HELD else left + strip.scale.px_per_day
            if right < strip.scale.left or left > strip.scale.right:
                continue
            if each.sort is Sort.HELD:
                yield Mark(each, QRectF(left, top, right - left, 4.0))
            else:
                yield Mark(each, QRectF((left + right - SIDE) / 2, top, SIDE, SIDE))


def mark_words(farm: Farm, strip: Strip, stage: Stage, x: float, y: float) -> str:
    """Return what the marks near a spot say; empty where there is none."""
    near = (each for each in marks(farm, strip) if each.box.adjusted(-HIT, -HIT / 2, HIT, HIT / 2).contains(x, y))
    return "\n".join(dict.fromkeys(stage.words(each.coming.words) for each in near))


def draw_marks(painter: QPainter, farm: Farm, strip: Strip, stage: Stage) -> None:
    """Draw them: a line while pigs are held, a ring for a sow that is due, a triangle for pigs that are booked."""
    theme = tokens(stage)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for each in marks(farm, strip):
        box = each.box
        if each.coming.sort is Sort.HELD:
            painter.setPen(QPen(QColor(theme.warn), 2.4, Qt.PenStyle.DotLine))
            painter.drawLine(QPointF(box.left(), box.top() + 2), QPointF(box.right(), box.top() + 2))
            continue
        painter.setPen(QPen(QColor(theme.plate), 3.0))
        painter.setBrush(QColor(theme.ink))
        shape = _triangle(box)
        for outline in (True, False):
            if not outline:
                painter.setPen(QPen(QColor(theme.ink), 1.6))
            if each.coming.sort is Sort.DUE:
                painter.setBrush(QColor(theme.plate))
                painter.drawEllipse(box.adjusted(1, 1, -1, -1))
            else:
                painter.drawPolygon(shape)


def _triangle(box: QRectF) -> QPolygonF:
    return QPolygonF(
        [
            QPointF(box.left() + 1, box.top() + 1),
            QPointF(box.right() - 1, box.top() + 1),
            QPointF(box.center().x(), box.bottom()),
        ]
    )
