"""The date handle: a net post with a swallow-tailed flag that carries the day and two arrows."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from pigmap.builtin.panels.season_rows import Strip
from pigmap.drawing.words import day_words
from pigmap.qt.paintwork import Middle, breadth, line_height, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens

HIT = 8.0
"""How far from the post the pointer may be to take it [px]."""
TAIL, ARROW = 12.0, 22.0
TOP = 3.0


def flag_box(strip: Strip, stage: Stage) -> QRectF:
    """Return the flag's box; it turns to the left near the right edge."""
    words = day_words(stage.day, "short", language=stage.language)
    wide = breadth(words, font("strong", stage)) + 2 * ARROW + TAIL + 4
    high = max(28.0, line_height(font("strong", stage)) + 8)
    x = strip.scale.middle_of(stage.day)
    return QRectF(x - wide if turned(strip, stage, wide) else x, TOP, wide, high)


def turned(strip: Strip, stage: Stage, wide: float) -> bool:
    """Return whether the flag flies to the left."""
    return strip.scale.middle_of(stage.day) + wide > strip.scale.right - 4


def arrow_at(strip: Strip, stage: Stage, x: float, y: float) -> int:
    """Return -1 or 1 where an arrow of the flag lies under the pointer, else 0."""
    box = flag_box(strip, stage)
    if not box.contains(x, y):
        return 0
    plain = _words_side(box, turned(strip, stage, box.width()))
    if x < plain.left() + ARROW:
        return -1
    return 1 if x > plain.right() - ARROW else 0


def on_handle(strip: Strip, stage: Stage, x: float, y: float) -> bool:
    """Return whether the pointer lies on the flag or the post."""
    return flag_box(strip, stage).contains(x, y) or abs(x - strip.scale.middle_of(stage.day)) <= HIT


def _words_side(box: QRectF, to_left: bool) -> QRectF:
    return box.adjusted(TAIL, 0, 0, 0) if to_left else box.adjusted(0, 0, -TAIL, 0)


def draw_handle(painter: QPainter, strip: Strip, stage: Stage) -> None:
    """Draw post, clips and flag: ink on today, blue on any other day."""
    theme = tokens(stage)
    x = strip.scale.middle_of(stage.day)
    if not strip.scale.left <= x <= strip.scale.right:
        return
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    colour = QColor(theme.ink if stage.day == stage.today else theme.plan)
    _draw_post(painter, strip, x, colour, QColor(theme.plate))
    _draw_flag(painter, strip, stage, colour)
    painter.restore()


def _draw_post(painter: QPainter, strip: Strip, x: float, colour: QColor, casing: QColor) -> None:
    foot = strip.foot + 6
    painter.setPen(QPen(casing, 6.0, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
    painter.drawLine(QPointF(x, strip.top), QPointF(x, foot - 6))
    painter.setPen(QPen(colour, 3.4, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
    painter.drawLine(QPointF(x, TOP), QPointF(x, foot - 6))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    painter.drawPolygon(QPolygonF([QPointF(x - 1.7, foot - 6.5), QPointF(x + 1.7, foot - 6.5), QPointF(x, foot)]))
    painter.drawEllipse(QPointF(x, TOP + 1), 4, 4)
    for at in range(len(strip.rows) + 1):
        y = strip.top + (at + 0.5) * strip.row
        painter.drawRoundedRect(QRectF(x - 5, y - 1.5, 10, 3), 1.5, 1.5)


def _draw_flag(painter: QPainter, strip: Strip, stage: Stage, colour: QColor) -> None:
    theme = tokens(stage)
    box = flag_box(strip, stage)
    to_left = turned(strip, stage, box.width())
    near, far, notch = (
        (box.right(), box.left(), box.left() + TAIL) if to_left else (box.left(), box.right(), box.right() - TAIL)
    )
    corners = [
        QPointF(near, box.top()),
        QPointF(far, box.top()),
        QPointF(notch, box.center().y()),
        QPointF(far, box.bottom()),
        QPointF(near, box.bottom()),
    ]
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    painter.drawPolygon(QPolygonF(corners))
    plain = _words_side(box, to_left)
    words = day_words(stage.day, "short", language=stage.language)
    write(painter, plain, words, font("strong", stage), theme.paper, Middle)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(theme.paper))
    y = box.center().y()
    for x, way in ((plain.left() + ARROW / 2 - 1, -1), (plain.right() - ARROW / 2 + 1, 1)):
        arrow = [QPointF(x - 3.5 * way, y - 4.5), QPointF(x + 3.5 * way, y), QPointF(x - 3.5 * way, y + 4.5)]
        painter.drawPolygon(QPolygonF(arrow))


def today_box(strip: Strip, stage: Stage, flag: QRectF, foot: float) -> QRectF:
    """Return where the word 'today' stands at its line: on top; below the rows where the flag is in its way.

    Parameters
    ----------
    strip, stage
        What is shown.
    flag
        What the flag takes, with what lies beside it.
    foot
        How far down there is room below the rows [px].

    Returns
    -------
    QRectF
        Nothing where today is shown or not in view; without a height where the word has no room.
    """
    x, scale = round(strip.scale.middle_of(stage.today)) + 0.5, strip.scale
    if stage.day == stage.today or not scale.left <= x <= scale.right:
        return QRectF()
    face = font("tick", stage, weight=600)
    wide, high = breadth(stage.say("today"), face) + 6, line_height(face)
    left = min(max(x - wide / 2, scale.left + 2), scale.right - wide - 2)
    on_top = QRectF(left, 2, wide, high)
    if not on_top.adjusted(-2, 0, 2, 0).intersects(flag):
        return on_top
    below = QRectF(left, strip.foot + 1, wide, high)
    return below if below.bottom() <= foot else QRectF(x, strip.foot, 1, 0)


def draw_today(painter: QPainter, strip: Strip, stage: Stage, box: QRectF) -> None:
    """Draw the plain line that today keeps while another day is shown, and its word in the box of `today_box`."""
    if box.width() <= 0:
        return
    theme, face = tokens(stage), font("tick", stage, weight=600)
    x = round(strip.scale.middle_of(stage.today)) + 0.5
    painter.setPen(QPen(QColor(theme.ink), 1.6))
    painter.drawLine(QPointF(x, line_height(face) + 4), QPointF(x, strip.foot))
    if box.height() > 0:
        painter.fillRect(box, QColor(theme.plate))
        write(painter, box, stage.say("today"), face, theme.ink, Middle)
