"""The labels of the season strip's rows, under the groups column: sign, name and the day of the next move."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter

from pigmap.builtin.panels.season_rows import Strip
from pigmap.drawing.on_day import letter_of
from pigmap.drawing.words import day_words
from pigmap.qt.group_sign import draw_group_sign
from pigmap.qt.icons import paint_icon
from pigmap.qt.nets import tallies
from pigmap.qt.paintwork import Right, breadth, line_height, plate, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens
from pigmap.qt.whereabouts import Book
from pigmap.records import Group
from pigmap.text import Text

SIGN = 22.0
WEEK = 7


def draw_labels(painter: QPainter, book: Book, strip: Strip, stage: Stage, chosen: str) -> None:
    """Draw the labels; `chosen` is the uid of the picked group."""
    theme = tokens(stage)
    wide = strip.scale.left
    painter.fillRect(QRectF(0, 0, wide, strip.foot + 400), QColor(theme.paper))
    narrow = stage.room.name == "narrow"
    if not narrow:
        face = font("heading", stage)
        head = QRectF(20, strip.top - line_height(face) - 5, wide - 36, line_height(face))
        write(painter, head, stage.say("Season"), face, theme.ink)
        write(painter, head, "B", font("tick", stage), theme.ink2, Right)
    for at, group in enumerate(strip.rows):
        y = strip.top + at * strip.row
        if group.uid == chosen and not narrow:
            plate(painter, QRectF(8, y + 2, wide - 16, strip.row - 4), theme.well, radius=6)
        sign = QRectF((wide - SIGN) / 2 if narrow else 22, y + (strip.row - SIGN) / 2, SIGN, SIGN)
        dark = theme.edge if theme.name == "dark" else ""
        draw_group_sign(
            painter, sign, group.colour_index, letter_of(group, stage.session.farm), font("tick", stage), edge=dark
        )
        if not narrow:
            _line(painter, strip, y, group.name, _moves_words(stage, book, group), stage)
    _draw_spare(painter, strip, stage, narrow=narrow)
    _draw_scroll(painter, strip, theme.edge)


def _draw_scroll(painter: QPainter, strip: Strip, colour: str) -> None:
    """Draw how far the rows are scrolled, where there is no room for all."""
    shown, all_rows = len(strip.rows), len(strip.groups)
    if shown >= all_rows:
        return
    step = shown * strip.row / all_rows
    thumb = QRectF(strip.scale.left - 7, strip.top + strip.first_row * step, 4, shown * step)
    plate(painter, thumb, colour, radius=2)


def _line(painter: QPainter, strip: Strip, y: float, left: str, right: str, stage: Stage) -> None:
    theme = tokens(stage)
    strong, second = font("strong", stage), font("second", stage)
    box = QRectF(56, y, strip.scale.left - 56 - 20, strip.row)
    room = breadth(right, second) + 10
    if box.width() - room < 60:  # the name matters more than the day, which the card says too
        right, room = "", 0.0
    write(painter, box.adjusted(0, 0, -room, 0), left, strong, theme.ink)
    write(painter, box, right, second, theme.ink2, Right)


def _moves_words(stage: Stage, book: Book, group: Group) -> str:
    after = book.whereabouts(group, stage.day).next_stay
    if after is None:
        return ""
    words = day_words(after.in_on, "short", language=stage.language)
    if (after.in_on - stage.day).days >= WEEK:
        return words
    return stage.say("moves {day}", day=words.split(" ", 1)[0])


def _draw_spare(painter: QPainter, strip: Strip, stage: Stage, *, narrow: bool) -> None:
    theme = tokens(stage)
    y = strip.spare_top
    side = 22.0
    x = (strip.scale.left - side) / 2 if narrow else 22
    paint_icon(painter, "spare", QRectF(x, y + (strip.row - side) / 2, side, side), theme.ink)
    if not narrow and not stage.coming_up:
        spare = sum(each.spare for each in tallies(stage.session.farm, stage.day, stage.today).values())
        words = stage.words(Text("{count} net", plural="{count} nets", count=spare))
        _line(painter, strip, y, stage.say("Spare set"), words, stage)
