"""How much of a field's ground has rested how long and is rooted how far, as bars in the very colours of the map."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPixmap
from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.key_table import draw_cells
from pigmap.drawing.key import KEY_GROUND, NEVER_USED, NOT_KNOWN, swatch
from pigmap.drawing.tokens import REST_COLOURS, REST_FROM_DAY, ROOTING_FROM, ROOTING_WORDS
from pigmap.ground.course import rest_shares, rooting_shares, weight_of
from pigmap.qt.paintwork import Middle, breadth, line_height, wrapped_height, write, write_wrapped
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens
from pigmap.records import Field
from pigmap.text import Quantity, Text

LEGEND = Text(
    "In the plot above: line, the mean; band, all but the barest and the greenest tenth; dots, seen at a daily check. "
    "Below it the pigs, and how much of the ground has rested how long. Blue is to come."
)
BAR_HIGH = 40.0
"""Height of the highest bar of a row, at text size 100 % [px]."""
WORTH_SAYING = 0.005


class Shares(NamedTuple):
    """Shares of the ground of a field on a day."""

    rest: NDArray[np.float64]
    """In each class of rest, then never used, then not known."""
    rooted: NDArray[np.float64]
    """In each class of rooting, (2, classes): seen, computed."""


class FieldShares(QWidget):
    """Draws two rows of bars; a screen reader reads the shares."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.shares: Shares | None = None
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        stage.theme_changed.connect(self.update)

    def show_field(self, field: Field) -> None:
        """Show a field on the day that is shown; what it showed stays while its ground is computed."""
        stage = self.stage
        state = stage.session.ground.state(field.uid, stage.day, stage.today)
        if state is None:
            return
        weight = weight_of(state.ground)
        ahead = stage.day > stage.today
        self.shares = Shares(
            rest_shares(state, REST_FROM_DAY, weight), rooting_shares(state, ROOTING_FROM, weight, computed=ahead)
        )
        self.setAccessibleName(self._spoken(field))
        self.update()

    def _spoken(self, field: Field) -> str:
        """Return all shares that are worth saying, in words."""
        stage, shares = self.stage, self.shares
        if shares is None:
            return ""
        rest = [
            stage.say("{days} {share}", days=days, share=Quantity(float(share), "1"))
            for days, share in zip(self._rest_words(), shares.rest, strict=True)
            if share >= WORTH_SAYING
        ]
        rooted = [
            stage.say("{words} {share}", words=words, share=Quantity(float(share), "1"))
            for words, share in zip(ROOTING_WORDS, shares.rooted.sum(axis=0), strict=True)
            if share >= WORTH_SAYING
        ]
        head = stage.say("Ground of {field} by days of rest", field=field.name)
        return f"{head}: {', '.join(rest)}. {stage.say('Rooted')}: {', '.join(rooted)}"

    def _rest_words(self) -> list[str]:
        stage = self.stage
        ends = (*(first - 1 for first in REST_FROM_DAY[1:]), None)
        days = [
            stage.say("{first} and more", first=first)
            if last is None
            else stage.say("{first} to {last}", first=first, last=last)
            for first, last in zip(REST_FROM_DAY, ends, strict=True)
        ]
        return [*days, stage.words(NEVER_USED), stage.words(NOT_KNOWN)]

    # Its room

    def _legend_high(self, width: int) -> float:
        return wrapped_height(self.stage.words(LEGEND), font("tick", self.stage), width)

    def _line(self) -> float:
        return line_height(font("tick", self.stage))

    def _row_high(self) -> float:
        """Return the height of head, shares, bars and words of one row [px]."""
        return 3 * self._line() + BAR_HIGH * self.stage.text_scale + 14

    def heightForWidth(self, width: int) -> int:
        """Return the height at a breadth."""
        return round(2 * self._row_high() + 6 + self._legend_high(width))

    def sizeHint(self) -> QSize:
        """Return the room it takes where nobody says how broad it is."""
        return QSize(300, self.heightForWidth(300))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw both rows."""
        if self.shares is None:
            return
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._draw_row(painter, 0.0, self.stage.say("Ground by days of rest, from"), self._rest_bars())
            self._draw_row(painter, self._row_high(), self.stage.say("Ground by how it is rooted"), self._rooted_bars())
            below = QRectF(0, 2 * self._row_high() + 6, self.width(), self._legend_high(self.width()) + 2)
            write_wrapped(painter, below, self.stage.words(LEGEND), font("tick", self.stage), tokens(self.stage).ink2)

    def _rest_bars(self) -> list[_Bar]:
        shares, stage = self.shares, self.stage
        if shares is None:
            return []
        days = [stage.words(Text("{days}", {"days": first})) for first in REST_FROM_DAY]
        bars = [
            _Bar(words, float(share), colour)
            for words, share, colour in zip(days, shares.rest[: len(days)], REST_COLOURS, strict=True)
        ]
        never, unknown = (float(each) for each in shares.rest[len(days) :])
        return [*bars, _Bar(stage.say("never"), never, ""), _Bar("?", unknown, "")]

    def _rooted_bars(self) -> list[_Bar]:
        shares, stage = self.shares, self.stage
        if shares is None:
            return []
        return [
            _Bar(stage.words(words), float(seen + computed), KEY_GROUND, number, float(seen))
            for number, (words, seen, computed) in enumerate(zip(ROOTING_WORDS, *shares.rooted, strict=True))
        ]

    def _draw_row(self, painter: QPainter, top: float, head: str, bars: list[_Bar]) -> None:
        stage, theme, line = self.stage, tokens(self.stage), self._line()
        face, high = font("tick", stage), BAR_HIGH * self.stage.text_scale
        write(painter, QRectF(0, top + 4, self.width(), line), head, font("tick", stage, weight=700), theme.ink)
        foot = top + 4 + 2 * line + high + 2
        each, most = self.width() / max(len(bars), 1), max((bar.share for bar in bars), default=1.0) or 1.0
        for number, bar in enumerate(bars):
            column = QRectF(number * each, 0, each, line)
            tall = bar.share / most * high
            box = QRectF(number * each + 3, foot - tall, each - 6, tall)
            if bar.share > 0:
                _draw_bar(painter, bar, box, high)
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.setPen(QPen(QColor(theme.edge), 1))
                painter.drawRect(box)
            if bar.share >= WORTH_SAYING:
                words = stage.words(Text("{share}", {"share": Quantity(bar.share, "1")}))
                if breadth(words, face) > each:
                    words = words.replace("\u00a0", "").replace(" ", "")
                write(painter, column.translated(0, box.top() - line - 1), words, face, theme.ink, Middle)
            write(painter, column.translated(0, foot + 1), bar.words, face, theme.ink2, Middle)
        painter.setPen(QPen(QColor(theme.edge), 1))
        painter.drawLine(QRectF(0, foot, self.width(), 0).topLeft(), QRectF(0, foot, self.width(), 0).topRight())


class _Bar(NamedTuple):
    """One bar."""

    words: str
    share: float
    colour: str
    """Empty for ground without a colour."""
    rooted: int | None = None
    """The class of rooting whose clods lie in it."""
    seen: float = 0.0
    """How much of the share was seen: its clods are filled, and lie lowest."""


@lru_cache(maxsize=40)
def _clods(rooted: int, seen: bool, wide: int, high: int, density: float) -> QPixmap:
    """Return a bar full of clods as a picture: they are drawn for every day that is shown."""
    made = QPixmap(round(wide * density), round(high * density))
    made.setDevicePixelRatio(density)
    made.fill(QColor(KEY_GROUND))
    with QPainter(made) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        draw_cells(painter, swatch(KEY_GROUND, rooted, seen=seen, wide=wide, high=high), QRectF(0, 0, wide, high))
    return made


def _draw_bar(painter: QPainter, bar: _Bar, box: QRectF, most: float) -> None:
    if bar.rooted is None:
        if bar.colour:
            painter.fillRect(box, QColor(bar.colour))
        return
    split = box.bottom() - box.height() * bar.seen / bar.share
    for part, seen in (
        (QRectF(box.left(), box.top(), box.width(), split - box.top()), False),
        (QRectF(box.left(), split, box.width(), box.bottom() - split), True),
    ):
        if part.height() >= 1:
            density = painter.device().devicePixelRatio()
            drawn = _clods(bar.rooted, seen, round(part.width()) + 1, round(most) + 1, density)
            painter.save()
            painter.setClipRect(part)
            painter.drawPixmap(QPointF(part.left(), box.bottom() - drawn.height() / density), drawn)
            painter.restore()
