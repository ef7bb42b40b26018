"""The card of one group, in three forms: tall, short for a small window, and a line of a narrow one's row."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QFont, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.group_words import GroupWords
from pigmap.builtin.panels.pips import SIDE, draw_pips, pips_wide
from pigmap.qt.buttons import Button
from pigmap.qt.group_sign import draw_group_sign
from pigmap.qt.paintwork import Right, breadth, line_height, plate, rule, write
from pigmap.qt.stage import Picked, Stage
from pigmap.qt.theme import RADIUS_PANEL, font, tokens

PAD = 12
SIGN = 30


class GroupCard(Button):
    """Shows one group; pressing it picks the group."""

    def __init__(self, stage: Stage, words: GroupWords, parent: QWidget) -> None:
        super().__init__(stage, parent)
        self.words = words
        self.foot = 0
        """Height left free at its lower edge, for what can be done [px]."""
        self.setCheckable(True)
        self.clicked.connect(lambda: self.stage.pick(Picked("groups", self.words.uid)))
        self.show_words(words)

    def nextCheckState(self) -> None:
        """Stay as it is when pressed: what is picked marks it."""

    def show_words(self, words: GroupWords) -> None:
        """Say something else."""
        if words == self.words and self.accessibleName():
            return
        self.words = words
        self.setAccessibleName(words.spoken)
        self.update()

    def _line(self, role: str = "body") -> float:
        return line_height(font(role, self.stage)) + 4  # type: ignore[arg-type]

    def sizeHint(self) -> QSize:
        """Return the room it takes in the form that the window has room for."""
        head = max(SIGN, line_height(font("heading", self.stage)) + line_height(font("second", self.stage)))
        name = self.stage.room.name
        if name == "narrow":
            return QSize(200, round(max(44.0, head + 8)))
        pips = (SIDE + 12 if self.words.day_number else 0.0) + self._line("second") * (name == "small")
        place = 0.0 if name == "small" else self._line() + 2
        cares = len(self.words.cares) * (self._line("second") + 8)
        move = self._line() + 12 if self.words.move_to or self.words.move_day else 0.0
        return QSize(240, round(PAD + head + 8 + pips + place + cares + move + PAD - 4) + self.foot)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the card."""
        theme = tokens(self.stage)
        with QPainter(self) as painter:
            box = QRectF(self.rect())
            edge, wide = (theme.ink, 2.2) if self.isChecked() else (theme.edge if self.hovered else theme.line, 1.0)
            plate(painter, box, theme.plate, edge, width=wide, radius=RADIUS_PANEL)
            if self.stage.room.name == "narrow":
                self._draw_line(painter, box)
            else:
                self._draw_tall(painter, box.adjusted(PAD, PAD, -PAD, -PAD), short=self.stage.room.name == "small")

    def _draw_head(self, painter: QPainter, box: QRectF, second: str) -> float:
        theme, words = tokens(self.stage), self.words
        name, below = font("heading", self.stage), font("second", self.stage)
        high = max(SIGN, line_height(name) + line_height(below))
        dark = theme.edge if theme.name == "dark" else ""
        sign = QRectF(box.x(), box.y() + (high - SIGN) / 2, SIGN, SIGN)
        draw_group_sign(painter, sign, words.colour_index, words.letter, name, edge=dark)
        x = box.x() + SIGN + 10
        wide = box.right() - x
        write(painter, QRectF(x, box.y() - 1, wide, line_height(name)), words.name, name, theme.ink)
        line = QRectF(x, box.y() + line_height(name) - 1, wide, line_height(below))
        write(painter, line, second, below, theme.ink2)
        return box.y() + high + 8

    def _draw_tall(self, painter: QPainter, box: QRectF, *, short: bool) -> None:
        theme, words = tokens(self.stage), self.words
        body, second = font("body", self.stage, weight=500), font("second", self.stage)
        y = self._draw_head(painter, box, words.place if short else words.pigs)
        y = self._draw_pips(painter, box, y)
        left, role = (words.pigs_short, second) if short else (words.place, body)
        self._two(painter, box, y, (left, role, theme.ink2 if short else theme.ink), words.reading)
        y += self._line("second") if short else self._line() + 2
        for care in words.cares:
            y = self._draw_care(painter, box, y, care)
        if words.move_to or words.move_day:
            rule(painter, box.x(), box.right(), y + 4, theme.line)
            self._draw_move(painter, box, y + 10, words.move_to_short if short else words.move_to)

    def _draw_pips(self, painter: QPainter, box: QRectF, y: float) -> float:
        words, theme = self.words, tokens(self.stage)
        if not words.day_number:
            return y
        strong = font("strong", self.stage)
        room = box.width() - breadth(words.day_of, strong) - 10
        wide = pips_wide(words.days, words.day_number, room)
        pips = QRectF(box.x(), y + 1, wide, SIDE)
        draw_pips(painter, pips, words.day_number, words.days, words.colour_index, theme)
        line = QRectF(pips.right() + 8, y + 1 + SIDE / 2 - line_height(strong) / 2, room, line_height(strong))
        write(painter, line, words.day_of, strong, theme.ink)
        return y + SIDE + 12

    def _two(self, painter: QPainter, box: QRectF, y: float, left: tuple[str, QFont, str], right: str) -> None:
        theme, second = tokens(self.stage), font("second", self.stage)
        words, face, colour = left
        high = line_height(face)
        wide = breadth(right, second)
        write(painter, QRectF(box.x(), y, box.width() - wide - 8, high), words, face, colour)
        write(painter, QRectF(box.x(), y, box.width(), high), right, second, theme.ink2, Right)

    def _draw_care(self, painter: QPainter, box: QRectF, y: float, care: str) -> float:
        theme, face = tokens(self.stage), font("second", self.stage, weight=600)
        high = line_height(face) + 6
        bar = QRectF(box.x() - 4, y, box.width() + 8, high)
        plate(painter, bar, theme.warnbg, radius=4)
        write(painter, bar.adjusted(6, 0, -6, 0), care, face, theme.warn)
        return y + high + 6

    def _draw_move(self, painter: QPainter, box: QRectF, y: float, where: str) -> None:
        theme, words = tokens(self.stage), self.words
        strong, body = font("strong", self.stage, weight=700), font("body", self.stage)
        high = line_height(body)
        wide = write(painter, QRectF(box.x(), y, box.width(), high), words.move_day, strong, theme.plan)
        x = box.x() + wide + (5 if wide else 0)
        colour = theme.ink if wide else theme.ink2
        if breadth(where, body) > box.right() - x:
            where = words.move_to_short
        write(painter, QRectF(x, y, box.right() - x, high), where, body, colour)

    def _draw_line(self, painter: QPainter, box: QRectF) -> None:
        theme, words = tokens(self.stage), self.words
        strong, second = font("strong", self.stage, weight=700), font("second", self.stage)
        sign = QRectF(box.x() + 10, box.center().y() - 13, 26, 26)
        draw_group_sign(painter, sign, words.colour_index, words.letter, strong)
        x, right = sign.right() + 10, box.right() - 12
        top = box.center().y() - (line_height(strong) + line_height(second)) / 2
        day = breadth(words.move_weekday, strong)
        write(painter, QRectF(x, top, right - x - day - 8, line_height(strong)), words.name, strong, theme.ink)
        line = QRectF(x, top, right - x, line_height(strong))
        write(painter, line, words.move_weekday, strong, theme.plan, Right)
        below = QRectF(x, top + line_height(strong), right - x, line_height(second))
        if words.cares:
            self._draw_chip(painter, below, words.cares[0])
        else:
            where = ", ".join(part for part in (words.place, words.day_of) if part)
            if breadth(where, second) > below.width():
                where = words.place or where
            write(painter, below, where, second, theme.ink2)

    def _draw_chip(self, painter: QPainter, box: QRectF, care: str) -> None:
        theme, face = tokens(self.stage), font("tick", self.stage, weight=600)
        chip = QRectF(box.x() - 4, box.y(), min(box.width() + 8, breadth(care, face) + 12), box.height())
        plate(painter, chip, theme.warnbg, radius=4)
        write(painter, chip.adjusted(6, 0, -6, 0), care, face, theme.warn)
