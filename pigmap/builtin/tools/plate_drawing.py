"""The contents of the plate beside a ghost: measured and drawn by one and the same walk from top to bottom."""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import QPoint, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPixmap

from pigmap.builtin.tools.place_figures import PlateWords, Row
from pigmap.builtin.tools.plate_spot import SHADOW_PX
from pigmap.qt.icons import paint_icon
from pigmap.qt.paintwork import Left, Right, line_height, plate, rule, shadow, wrapped_height, write, write_wrapped
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens
from pigmap.qt.why import Why, why_height, write_why
from pigmap.text import Text

WIDE_PX = 288
"""Breadth of the plate at a text size of 100 % [px]."""
PAD = 15.0
NAME_PX = 68.0


class Asked(NamedTuple):
    """Which figure the keys are at, and what it rests on where that is shown."""

    at: int = 0
    why: Why | None = None
    ringed: bool = False
    """Whether the plate has the keys."""
    held: str = ""
    """What to do next with a ghost that is held; nothing where it follows the pointer."""
    more: int = 0
    """How many parts had no room."""
    hint: bool = True
    """Whether there is room to say how to ask, or what to do next."""


def figures_of(words: PlateWords) -> tuple[Row, ...]:
    """Return the figures of a plate from above to below; that of the nets stands in the head where it fits."""
    return (words.nets, *words.rows)


class PlateDrawing:
    """Draws what a plate says; knows how high it is, and where each figure stands."""

    def __init__(self, stage: Stage) -> None:
        self.stage = stage
        self.wide = round(WIDE_PX * stage.text_scale)
        """How wide it is [px]."""
        self._name_wide = NAME_PX * stage.text_scale
        self.boxes: tuple[QRectF, ...] = ()
        """Where each figure stands with what it rests on, as it was drawn or measured last."""

    def height(self, words: PlateWords, asked: Asked) -> float:
        """Return how high it is [px]."""
        return self.draw(None, words, asked)

    @property
    def head_high(self) -> float:
        """How high the head is that says 'Not here' [px]."""
        return line_height(font("heading", self.stage)) + 20

    def draw(self, painter: QPainter | None, words: PlateWords, asked: Asked) -> float:
        """Draw it and return how high it is [px]; without a painter only the height is found."""
        boxes: list[QRectF] = []
        y = self._draw_against(painter, words) if words.against else 0.0
        for other in words.others:
            y = self._draw_care(painter, other, y, against=True)
        for number, row in enumerate(figures_of(words)):
            top = max(y, 6.0)
            if number or words.against:
                y = self._draw_row(painter, row, y, quiet=bool(words.against))
            else:
                y = self._draw_head(painter, words)
            y = self._draw_why(painter, asked.why if number == asked.at else None, y)
            boxes.append(QRectF(PAD - 6, top, self.wide - 2 * PAD + 12, y - top))
        self.boxes = tuple(boxes)
        for care in words.cares:
            y = self._draw_care(painter, care, y)
        y = self._draw_foot(painter, asked, y)
        if painter is not None and asked.ringed and asked.at < len(boxes):
            plate(painter, boxes[asked.at].adjusted(1, 2, -1, -1), "", tokens(self.stage).plan, width=2.0)
        return y + 6

    def picture(self, size: QSize, density: float, words: PlateWords, asked: Asked) -> QPixmap:
        """Return it as a picture, with its shadow; it is painted once, since it moves with the ghost."""
        made = QPixmap(size * density)
        made.setDevicePixelRatio(density)
        made.fill(Qt.GlobalColor.transparent)
        theme = tokens(self.stage)
        with QPainter(made) as painter:
            box = QRectF(QRect(QPoint(0, 0), size)).adjusted(SHADOW_PX, SHADOW_PX, -SHADOW_PX, -SHADOW_PX)
            shadow(painter, box)
            plate(painter, box, theme.plate, theme.no if words.against else theme.plan, width=2.0)
            painter.translate(SHADOW_PX, SHADOW_PX)
            if words.against:
                painter.save()
                painter.setClipRect(QRectF(0, 0, self.wide, self.head_high))
                plate(painter, QRectF(0, 0, self.wide, self.head_high + 20), theme.no)
                painter.restore()
            self.draw(painter, words, asked)
        return made

    def _draw_why(self, painter: QPainter | None, why: Why | None, y: float) -> float:
        if why is None:
            return y
        wide = self.wide - 2 * PAD
        if painter is not None:
            write_why(painter, self.stage, why, PAD, y + 2, wide)
        return y + 2 + why_height(self.stage, why, wide)

    def _draw_foot(self, painter: QPainter | None, asked: Asked, y: float) -> float:
        """Write quietly how to ask what the figures rest on."""
        theme, face, wide = tokens(self.stage), font("second", self.stage), self.wide - 2 * PAD
        if not asked.hint:
            return y
        words = asked.held or self._how_to_ask(asked.more)
        if asked.why is not None:
            words = self.stage.say("Up, Down: the next figure. Esc closes")
        high = wrapped_height(words, face, wide) + 8
        if painter is not None:
            rule(painter, PAD, self.wide - PAD, y, theme.line)
            write_wrapped(painter, QRectF(PAD, y + 5, wide, high), words, face, theme.ink2)
        return y + high

    def _how_to_ask(self, more: int) -> str:
        if not more:
            return self.stage.say("Why: Y, or right click")
        words = Text(
            "1 more, and why: Y, or right click", plural="{count} more, and why: Y, or right click", count=more
        )
        return self.stage.words(words)

    def _draw_head(self, painter: QPainter | None, words: PlateWords) -> float:
        theme, wide = tokens(self.stage), self.wide - 2 * PAD
        head, second = font("title", self.stage, weight=700), font("second", self.stage)
        y = 10.0
        if painter is not None:
            write(painter, QRectF(PAD, y, wide, line_height(head)), words.head, head, theme.ink)
        y += line_height(head) + 2
        if painter is not None:
            write(painter, QRectF(PAD, y, wide, line_height(second)), words.second, second, theme.ink2)
        return y + line_height(second) + 6

    def _draw_against(self, painter: QPainter | None, words: PlateWords) -> float:
        theme, wide = tokens(self.stage), self.wide - 2 * PAD
        head, strong = font("heading", self.stage), font("strong", self.stage, weight=500)
        if painter is not None:
            high = self.head_high
            paint_icon(painter, "refused", QRectF(PAD, (high - 20) / 2, 20, 20), theme.plate)
            write(painter, QRectF(PAD + 30, 0, wide - 30, high), self.stage.say("Not here"), head, theme.plate)
        y = self.head_high + 10
        for words_of, colour in ((words.against, theme.ink), (words.remedy, theme.no)):
            face = strong if colour == theme.ink else font("strong", self.stage)
            high = wrapped_height(words_of, face, wide)
            if painter is not None:
                write_wrapped(painter, QRectF(PAD, y, wide, high + 2), words_of, face, colour)
            y += high + 5
        return y + 3

    def _draw_row(self, painter: QPainter | None, row: Row, y: float, *, quiet: bool) -> float:
        theme = tokens(self.stage)
        name, figure = font("second", self.stage), font("strong", self.stage)
        high = line_height(figure) + 12
        if painter is not None:
            rule(painter, PAD, self.wide - PAD, y, theme.line)
            box = QRectF(PAD, y, self.wide - 2 * PAD, high)
            write(painter, box, row.name, name, theme.ink2, Left)
            taken = write(
                painter,
                box.adjusted(self._name_wide, 0, 0, 0),
                row.figure,
                figure,
                theme.ink2 if quiet else theme.ink,
                Left,
            )
            write(painter, box.adjusted(self._name_wide + taken + 8, 0, 0, 0), row.beside, name, theme.ink2, Right)
        return y + high

    def _draw_care(self, painter: QPainter | None, care: str, y: float, *, against: bool = False) -> float:
        theme, wide = tokens(self.stage), self.wide - 2 * PAD
        under, ink = (theme.nobg, theme.no) if against else (theme.warnbg, theme.warn)
        face = font("second", self.stage, weight=500)
        high = wrapped_height(care, face, wide - 36)
        if painter is not None:
            plate(painter, QRectF(PAD - 4, y + 2, wide + 8, high + 14), under, radius=6)
            paint_icon(painter, "refused" if against else "care", QRectF(PAD + 3, y + 8, 18, 18), ink)
            write_wrapped(painter, QRectF(PAD + 30, y + 9, wide - 34, high + 2), care, face, ink)
        return y + high + 20
