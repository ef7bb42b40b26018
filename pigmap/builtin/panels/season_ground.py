"""What lies behind the bars of the season strip: months, weeks and the lines between rows."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainter, QPen

from pigmap.builtin.panels.day_scale import DayScale
from pigmap.builtin.panels.season_rows import Strip
from pigmap.drawing.words import month_words
from pigmap.qt.paintwork import Left, breadth, line_height, rule, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens

EVERY_DAY_FROM, EVERY_WEEK_FROM, FORTNIGHT_FROM = 30.0, 5.5, 3.0
"""Breadth of a day from which each day, each Monday, each second Monday has its number [px]."""


def head_high(stage: Stage) -> float:
    """Return the height of months and days together [px]."""
    return line_height(font("tick", stage)) * 2 + 6


def draw_ground(painter: QPainter, strip: Strip, stage: Stage, foot: float) -> None:
    """Draw a thin line at each week, and the lines between rows."""
    theme = tokens(stage)
    scale = strip.scale
    painter.fillRect(QRectF(scale.left, 0, scale.right - scale.left, foot), QColor(theme.plate))
    _draw_days(painter, strip, stage)
    for at in range(len(strip.rows) + 2):
        rule(painter, scale.left, scale.right, strip.top + at * strip.row - 1, theme.line)


def draw_head(painter: QPainter, strip: Strip, stage: Stage, taken: Sequence[QRectF]) -> None:
    """Write months and days on top, where nothing lies over them: they keep off the boxes that are taken."""
    _write_months(painter, strip.scale, stage, taken)
    theme, face, scale = tokens(stage), font("tick", stage), strip.scale
    high = line_height(face)
    for day in scale.days():
        if not _numbered(day, scale.px_per_day):
            continue
        box = QRectF(round(scale.x_of(day)) + 4.5, high + 4, breadth(str(day.day), face) + 1, high)
        whole = box.left() >= scale.left and box.right() <= scale.right + 1  # a number that is cut reads as another
        if whole and not any(box.intersects(each) for each in taken):
            write(painter, box, str(day.day), face, theme.ink2, Left)


def _write_months(painter: QPainter, scale: DayScale, stage: Stage, taken: Sequence[QRectF]) -> None:
    theme = tokens(stage)
    face = font("tick", stage, weight=700)
    month = scale.day_at(scale.left).replace(day=1)
    while scale.x_of(month) < scale.right:
        after = _next_month(month)
        x, room = max(scale.x_of(month), scale.left) + 8, min(scale.x_of(after) - 6, scale.right)
        for box in taken:
            if box.left() < room and x < box.right():  # the broader side of it is left
                before, behind = box.left() - 8 - x, room - box.right() - 6
                x, room = (x, box.left() - 8) if before > behind else (max(x, box.right() + 6), room)
        for short in (False, True):
            words = month_words(month.month, language=stage.language, short=short)
            if month.month == 1:
                words = f"{words} {month.year}"
            if x + breadth(words, face) <= room:
                write(painter, QRectF(x, 3, room - x, line_height(face)), words, face, theme.ink, Left)
                break
        month = after


def _next_month(month: date) -> date:
    return (month + timedelta(days=32)).replace(day=1)


def _draw_days(painter: QPainter, strip: Strip, stage: Stage) -> None:
    theme, scale = tokens(stage), strip.scale
    face = font("tick", stage)
    high = line_height(face)
    y = high + 4
    for day in scale.days():
        x = round(scale.x_of(day)) + 0.5
        if not _numbered(day, scale.px_per_day):
            continue
        if x > scale.left + 2:
            painter.setPen(QPen(QColor(theme.line), 1))
            painter.drawLine(QPointF(x, y), QPointF(x, strip.foot))
            painter.setPen(QPen(QColor(theme.edge), 1))
            painter.drawLine(QPointF(x, y + 2), QPointF(x, y + high - 1))


def _numbered(day: date, px_per_day: float) -> bool:
    if px_per_day >= EVERY_DAY_FROM:
        return True
    if px_per_day >= EVERY_WEEK_FROM:
        return day.weekday() == 0
    if px_per_day >= FORTNIGHT_FROM:
        return day.weekday() == 0 and day.isocalendar().week % 2 == 0
    return False
