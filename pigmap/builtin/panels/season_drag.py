"""Dragging the end of a bar that is not past: another day out, and the stays that follow move with it."""

from __future__ import annotations

from datetime import date, timedelta

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from pigmap.builtin.panels.season_rows import Bar, Strip
from pigmap.drawing.words import day_words
from pigmap.qt.following import tell
from pigmap.qt.paintwork import Middle, breadth, plate, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import RADIUS_BAR, font, tokens
from pigmap.qt.whereabouts import book_of
from pigmap.records import Edit, Stay, StayState
from pigmap.text import Text


class EndDrag:
    """One drag of one bar's end."""

    def __init__(self, bar: Bar, least: date) -> None:
        self._bar = bar
        self._least = least
        assert bar.stay.out_on is not None
        self.out_on: date = bar.stay.out_on

    def follow(self, strip: Strip, x: float) -> None:
        """Follow the pointer: the nearest day boundary, at least the earliest day it can be."""
        nearest = strip.scale.day_at(x + strip.scale.px_per_day / 2)
        self.out_on = max(nearest, self._least)

    def draw(self, painter: QPainter, strip: Strip, stage: Stage) -> None:
        """Draw where the bar would end, and the day."""
        theme, face = tokens(stage), font("tick", stage, weight=600)
        box = QRectF(self._bar.box)
        box.setRight(max(box.left() + 2, strip.scale.x_of(self.out_on) - 0.5))
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        plate(painter, box, theme.planbg, radius=RADIUS_BAR)
        painter.setPen(QPen(QColor(theme.plan), 2.2, Qt.PenStyle.DashLine))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(box, RADIUS_BAR, RADIUS_BAR)
        words = day_words(self.out_on, "short", language=stage.language)
        tag = QRectF(box.right() + 6, box.top(), breadth(words, face) + 12, box.height())
        plate(painter, tag, theme.plan, radius=RADIUS_BAR)
        write(painter, tag, words, face, theme.plate, Middle)
        painter.restore()

    def finish(self, stage: Stage) -> None:
        """Ask for the change, if there is one."""
        if self.out_on != self._bar.stay.out_on:
            change_end(stage, self._bar.stay, self.out_on)


def change_end(stage: Stage, stay: Stay, out_on: date) -> None:
    """Ask for another day out of a stay by one edit, and say so once it is done; what follows moves with it."""
    day = day_words(out_on, "short", language=stage.language)
    asked = stage.session.do(_edit(stage, stay, out_on))
    tell(stage, asked, Text("Out on {day}; what follows moves with it.", {"day": day}))


def _edit(stage: Stage, stay: Stay, out_on: date) -> Edit:
    """Return the edit; of a running stay it is the next one that moves, and the running one ends when that begins."""
    from pigmap.document.edits import change_stay  # on use: the first frame needs no edits

    after = book_of(stage.session.farm, stage.today).following(stay)
    moves = stay.state is StayState.RUNNING and after is not None and after.state is StayState.PLANNED
    if moves and after is not None and after.out_on is not None and stay.out_on is not None:
        return change_stay(after.uid, out_on, after.out_on + (out_on - stay.out_on))
    return change_stay(stay.uid, stay.in_on, out_on)


def least_out(stage: Stage, stay: Stay) -> date:
    """Return the earliest day out that a stay can be given: a day after it began, and not before today if it runs."""
    least = stay.in_on + timedelta(days=1)
    return max(least, stage.today) if stay.state is StayState.RUNNING else least
