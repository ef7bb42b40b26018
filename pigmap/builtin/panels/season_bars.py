"""Draw the bars of the season strip: past, running and planned stays, ticked once a day, and the spare set's moves."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from pigmap.builtin.panels.season_rows import Bar, Strip, moves
from pigmap.drawing.tokens import GROUP_SIGNS, Theme
from pigmap.qt.group_sign import draw_group_sign
from pigmap.qt.paintwork import Middle, breadth, plate, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import RADIUS_BAR, font, tokens
from pigmap.qt.whereabouts import Book
from pigmap.records import StayState

PAST_SHARE = 0.62
"""How much of a group's colour a past bar has."""
TICKS_FROM = 6.0
"""Breadth of a day from which bars are ticked [px]."""
LEAST_WORDS_PX = 36.0
"""Words that do not fit are cut short where there is so much room, and left out where there is less."""


def mixed(colour: str, ground: str, share: float) -> QColor:
    """Return a colour laid thinly over another."""
    over, under = QColor(colour), QColor(ground)
    red, green, blue = (
        round(share * a + (1 - share) * b)
        for a, b in (
            (over.red(), under.red()),
            (over.green(), under.green()),
            (over.blue(), under.blue()),
        )
    )
    return QColor(red, green, blue)


def draw_bar(painter: QPainter, bar: Bar, strip: Strip, stage: Stage, *, colour_index: int, breached: bool) -> None:
    """Draw one bar."""
    theme = tokens(stage)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    sign = GROUP_SIGNS[colour_index % len(GROUP_SIGNS)]
    state = bar.stay.state
    if breached and state is StayState.PLANNED:
        plate(painter, bar.box, theme.nobg, theme.no, width=1.6, radius=RADIUS_BAR)
        ink = theme.no
    elif state is StayState.PLANNED:
        plate(painter, bar.box, theme.planbg, theme.plan, width=1.6, radius=RADIUS_BAR)
        ink = theme.plan
    elif state is StayState.RUNNING:
        _draw_running(painter, bar, strip, sign.colour, theme, stage.today)
        ink = sign.letter
    else:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(mixed(sign.colour, theme.plate, PAST_SHARE))
        painter.drawRoundedRect(bar.box, RADIUS_BAR, RADIUS_BAR)
        ink = theme.ink
    _draw_ticks(painter, bar, strip, ink)
    _draw_words(painter, bar, strip, stage, ink, breached=breached)


def _draw_running(painter: QPainter, bar: Bar, strip: Strip, colour: str, theme: Theme, today: date) -> None:
    whole = QPainterPath()
    whole.addRoundedRect(bar.box.adjusted(1, 1, -1, -1), RADIUS_BAR, RADIUS_BAR)
    painter.fillPath(whole, QColor(theme.plate))
    begun = QPainterPath()
    begun.addRect(
        QRectF(bar.box.left(), bar.box.top(), strip.scale.middle_of(today) - bar.box.left(), bar.box.height())
    )
    painter.fillPath(whole.intersected(begun), QColor(colour))
    painter.setPen(QPen(QColor(theme.ink), 2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(whole)


def _draw_ticks(painter: QPainter, bar: Bar, strip: Strip, ink: str) -> None:
    step = strip.scale.px_per_day
    if step < TICKS_FROM:
        return
    colour = QColor(ink)
    colour.setAlpha(150)
    painter.setPen(QPen(colour, 1))
    foot = bar.box.bottom() - 1
    x = bar.box.left() + step
    while x < bar.box.right() - step / 2:
        painter.drawLine(QPointF(round(x) + 0.5, foot - 4), QPointF(round(x) + 0.5, foot))
        x += step


def _draw_words(painter: QPainter, bar: Bar, strip: Strip, stage: Stage, ink: str, *, breached: bool) -> None:
    planned = bar.stay.state is StayState.PLANNED
    grip = bar.stay.state is not StayState.PAST and bar.stay.out_on is not None
    theme = tokens(stage)
    left, right = max(bar.box.left(), strip.scale.left), min(bar.box.right(), strip.scale.right)
    if grip:
        x = bar.box.right() - 5
        painter.setPen(QPen(QColor(ink if planned else theme.ink), 1.8))
        painter.drawLine(QPointF(x, bar.box.top() + 5), QPointF(x, bar.box.bottom() - 6))
    if bar.stay.state is StayState.RUNNING:
        today = min(max(strip.scale.middle_of(stage.today), left), right)
        if today - left >= right - today or today - left > breadth(bar.words, font("second", stage, weight=700)) + 8:
            right = today
        else:
            left, ink = today, theme.ink
    if breached and planned and right - left > 30:
        badge = QRectF(bar.box.left() + 5, bar.box.center().y() - 8, 16, 16)
        plate(painter, badge, theme.no, radius=3)
        write(painter, badge, "!", font("tick", stage, weight=700), theme.plate, Middle)
        left += 20
    box = QRectF(left + 2, bar.box.top(), right - left - 4 - (6 if planned else 0), bar.box.height() - 1)
    face = font("second", stage, weight=700)
    if box.width() >= min(breadth(bar.words, face), LEAST_WORDS_PX):
        write(painter, box, bar.words, face, ink, Middle)


def draw_spare_moves(painter: QPainter, book: Book, strip: Strip, stage: Stage) -> None:
    """Draw the sign of each group that moves, hung on a thin line from its bar."""
    theme = tokens(stage)
    y = strip.spare_top + strip.row / 2
    found = list(moves(book, strip))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(QColor(theme.edge), 0.8))
    for move in found:
        x = strip.scale.x_of(move.day)
        painter.drawLine(QPointF(x, strip.top + (move.row + 1) * strip.row - 4), QPointF(x, y))
    by_day: dict[date, int] = {}
    for move in found:
        beside = by_day.get(move.day, 0)
        by_day[move.day] = beside + 1
        x = strip.scale.x_of(move.day) + beside * 9
        box = QRectF(x - 5.5, y - 5.5, 11, 11)
        draw_group_sign(painter, box, move.group.colour_index, "", font("tick", stage))


def draw_all(
    painter: QPainter, shown: Collection[Bar], book: Book, strip: Strip, stage: Stage, bad: Collection[str]
) -> None:
    """Draw the bars and the moves; `bad` are the uids of stays that a rule complains of."""
    for bar in shown:
        group = book.farm.groups.get(bar.stay.group_uid)
        breached = bar.stay.uid in bad or bar.stay.paddock_uid in bad
        draw_bar(painter, bar, strip, stage, colour_index=group.colour_index if group else 0, breached=breached)
    draw_spare_moves(painter, book, strip, stage)
