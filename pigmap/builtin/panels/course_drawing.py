"""Draws the course of a field's ground: green share above, the pigs below it, and rest in the colours of the map."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from pigmap.builtin.panels.course_scale import MOST_LANES, Scale
from pigmap.builtin.panels.season_bars import PAST_SHARE, mixed
from pigmap.drawing.tokens import GROUP_SIGNS, REST_COLOURS
from pigmap.drawing.words import month_words
from pigmap.ground.course import Course
from pigmap.qt.paintwork import Middle, Right, breadth, line_height, plate, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens
from pigmap.records import Lasting
from pigmap.text import Quantity, Text

if TYPE_CHECKING:
    from pigmap.builtin.panels.field_course import Plotted

Boxes = tuple[QRectF, QRectF, QRectF]
BAND_ALPHA = 90
DOT = 1.7
DOT_ALPHA = 130


def draw_course(painter: QPainter, stage: Stage, course: Course, plotted: Plotted, scale: Scale, boxes: Boxes) -> None:
    """Draw all of it but the day that is shown."""
    green, lanes, rest = boxes
    _draw_frame(painter, stage, course, green, scale)
    _draw_checks(painter, stage, plotted, green, scale)
    _draw_green(painter, stage, course, green, scale)
    _draw_stays(painter, stage, plotted, lanes, scale)
    _draw_rest(painter, stage, course, rest, scale)
    _draw_time(painter, stage, rest, scale)
    _draw_today(painter, stage, green, rest, scale)


def draw_waiting(painter: QPainter, boxes: Boxes, stage: Stage) -> None:
    """Say in the place of the plot that it is being computed."""
    theme = tokens(stage)
    plate(painter, boxes[0].adjusted(0.5, 0.5, -0.5, -0.5), "", theme.line, radius=2)
    write(painter, boxes[0], stage.say("being computed"), font("tick", stage), theme.ink2, Middle)


def _y_of(box: QRectF, share: float) -> float:
    return box.bottom() - share * box.height()


def _draw_frame(painter: QPainter, stage: Stage, course: Course, box: QRectF, scale: Scale) -> None:
    """Draw lines at none, half and all, and where ground counts as green enough."""
    theme, face = tokens(stage), font("tick", stage)
    for share in (0.0, 0.5, 1.0):
        painter.setPen(QPen(QColor(theme.line), 1))
        y = round(_y_of(box, share)) + 0.5
        painter.drawLine(QPointF(scale.left, y), QPointF(scale.right, y))
        words = stage.words(Text("{share}", {"share": Quantity(share, "1")}))
        beside = QRectF(0, y - line_height(face) / 2, scale.left - 6, line_height(face))
        write(painter, beside, words, face, theme.ink2, Right)
    pen = QPen(QColor(theme.plan), 1.2, Qt.PenStyle.CustomDashLine)
    pen.setDashPattern([2, 3])
    painter.setPen(pen)
    y = _y_of(box, course.ground.model.ready_cover)
    painter.drawLine(QPointF(scale.left, y), QPointF(scale.right, y))


def _points(scale: Scale, box: QRectF, days: NDArray[np.int64], shares: NDArray[np.float64]) -> list[QPointF]:
    return [
        QPointF(scale.x_of(day), _y_of(box, share)) for day, share in zip(days.tolist(), shares.tolist(), strict=True)
    ]


def _draw_green(painter: QPainter, stage: Stage, course: Course, box: QRectF, scale: Scale) -> None:
    """Draw mean and band: filled and solid up to today, outlined and dashed from then on."""
    theme, split = tokens(stage), int(np.searchsorted(course.days, stage.today.toordinal(), side="right"))
    parts = ((slice(0, split), False), (slice(max(split - 1, 0), None), True))
    for part, ahead in parts:
        days = course.days[part]
        if len(days) < 2:
            continue
        upper, lower = _points(scale, box, days, course.greenest[part]), _points(scale, box, days, course.barest[part])
        fill = QColor(theme.edge)
        fill.setAlpha(BAND_ALPHA)
        painter.setBrush(Qt.BrushStyle.NoBrush if ahead else fill)
        painter.setPen(QPen(QColor(theme.plan), 1.0) if ahead else Qt.PenStyle.NoPen)
        painter.drawPolygon(QPolygonF([*upper, *reversed(lower)]))
        pen = QPen(QColor(theme.plan if ahead else theme.ink), 1.8)
        pen.setStyle(Qt.PenStyle.DashLine if ahead else Qt.PenStyle.SolidLine)
        painter.setPen(pen)
        painter.drawPolyline(QPolygonF(_points(scale, box, days, course.mean[part])))


def _draw_checks(painter: QPainter, stage: Stage, plotted: Plotted, box: QRectF, scale: Scale) -> None:
    theme = tokens(stage)
    ink = QColor(theme.ink)
    ink.setAlpha(DOT_ALPHA)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ink)
    for check in plotted.checks:
        if scale.first <= check.checked_on <= scale.last:
            share = 1.0 - (check.rooting_score or 0) / 4
            y = min(max(_y_of(box, share), box.top() + DOT), box.bottom() - DOT)
            painter.drawEllipse(QPointF(scale.x_of(check.checked_on.toordinal()), y), DOT, DOT)


def _draw_stays(painter: QPainter, stage: Stage, plotted: Plotted, box: QRectF, scale: Scale) -> None:
    """Draw a lane for each group, in the order in which they came; where there are more, the last one takes them."""
    groups = list(dict.fromkeys(each.stay.group_uid for each in plotted.stays))
    lanes = min(max(len(groups), 1), MOST_LANES)
    high = box.height() / lanes
    for each in plotted.stays:
        lane = min(groups.index(each.stay.group_uid), lanes - 1)
        left = scale.x_of(max(each.first, scale.first).toordinal())
        end = min(each.end or max(stage.today, each.first), scale.last)
        right = max(scale.x_of(end.toordinal()), left + 2.0)
        if end >= scale.first and each.first <= scale.last:
            bar = QRectF(left, box.top() + lane * high, right - left, high - 2)
            _draw_stay(painter, stage, each, bar, scale)


def _draw_stay(painter: QPainter, stage: Stage, each: Lasting, bar: QRectF, scale: Scale) -> None:
    theme = tokens(stage)
    group = stage.session.farm.groups.get(each.stay.group_uid)
    colour = GROUP_SIGNS[(group.colour_index if group is not None else 0) % len(GROUP_SIGNS)].colour
    if each.first > stage.today:
        plate(painter, bar, theme.planbg, theme.plan, width=1.2, radius=1.5)
        return
    begun = QRectF(bar)
    begun.setRight(min(bar.right(), max(scale.x_of(stage.today.toordinal()), bar.left() + 1)))
    if each.end is None or each.end > stage.today:
        plate(painter, bar, "", theme.ink, width=1.2, radius=1.5)
        painter.fillRect(begun.adjusted(1, 1, -1, -1), QColor(colour))
    else:
        plate(painter, begun, mixed(colour, theme.plate, PAST_SHARE).name(), radius=1.5)


def _draw_rest(painter: QPainter, stage: Stage, course: Course, box: QRectF, scale: Scale) -> None:
    """Draw the classes of rest on top of each other, from just left at the foot; what was never used is left open."""
    theme = tokens(stage)
    upto = np.concatenate((np.zeros((len(course.days), 1)), np.cumsum(course.rests, axis=1)), axis=1)
    painter.setPen(Qt.PenStyle.NoPen)
    for number, colour in enumerate(REST_COLOURS):
        lower = _points(scale, box, course.days, upto[:, number])
        upper = _points(scale, box, course.days, upto[:, number + 1])
        painter.setBrush(QColor(colour))
        painter.drawPolygon(QPolygonF([*lower, *reversed(upper)]))
    now = scale.x_of(stage.today.toordinal())
    veil = QColor(theme.plate)
    veil.setAlpha(120)
    painter.fillRect(QRectF(now, box.top(), max(scale.right - now, 0.0), box.height()), veil)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(theme.edge), 1))
    painter.drawRect(QRectF(scale.left, box.top(), scale.right - scale.left, box.height()))
    if now < scale.right:
        painter.setPen(QPen(QColor(theme.plan), 1.2, Qt.PenStyle.DashLine))
        painter.drawRect(QRectF(now, box.top(), scale.right - now, box.height()))


def _draw_time(painter: QPainter, stage: Stage, box: QRectF, scale: Scale) -> None:
    """Write months below the plot, the year beside each January, as many as have room."""
    theme, face = tokens(stage), font("tick", stage)
    until = scale.left
    for day in scale.quarters():
        x = scale.x_of(day.toordinal())
        painter.setPen(QPen(QColor(theme.edge), 1))
        painter.drawLine(QPointF(x, box.bottom()), QPointF(x, box.bottom() + (5 if day.month == 1 else 3)))
        words = _time_words(stage, day)
        if day.month not in (1, 7):
            continue
        wide = breadth(words, face) + 2
        left = min(max(x - wide / 2, scale.left), scale.right - wide)
        if left >= until:
            write(painter, QRectF(left, box.bottom() + 4, wide, line_height(face)), words, face, theme.ink2)
            until = left + wide + 4


def _time_words(stage: Stage, day: date) -> str:
    return str(day.year) if day.month == 1 else month_words(day.month, language=stage.language, short=True)


def _draw_today(painter: QPainter, stage: Stage, green: QRectF, rest: QRectF, scale: Scale) -> None:
    x = scale.x_of(stage.today.toordinal())
    painter.setPen(QPen(QColor(tokens(stage).ink), 1.6))
    painter.drawLine(QPointF(x, green.top()), QPointF(x, rest.bottom()))
