"""The button that the key folds up into: its colours, what is shown, and a chevron."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.key_table import draw_ramp
from pigmap.drawing.key import Key
from pigmap.drawing.tint import Tint
from pigmap.qt.buttons import Button
from pigmap.qt.icons import paint_icon
from pigmap.qt.paintwork import breadth, line_height, plate, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import RADIUS_BUTTON, font, tokens

RAMP = 78.0
HIGH = 44


class KeyButton(Button):
    """Folds the key and unfolds it."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent)
        self._tint: Tint | None = None
        self._key: Key | None = None
        self._open = False

    def show_state(self, tint: Tint | None, key: Key | None, *, open_: bool) -> None:
        """Show what is shown, and whether the key is open."""
        self._tint, self._key, self._open = tint, key, open_
        words = self.stage.say("Close the key") if open_ else self.stage.say("Show: {what}", what=self._title())
        self.setAccessibleName(words)
        self.setToolTip(words)
        self.update()

    def _title(self) -> str:
        return self.stage.words(self._key.title) if self._key is not None else self.stage.say("Show")

    def _has_ramp(self) -> bool:
        return self._key is not None and self._tint is not None and bool(self._key.colours)

    def sizeHint(self) -> QSize:
        """Return the room it takes: a chevron in the open key."""
        if self._open:
            return QSize(26, 26)
        face = font("strong", self.stage)
        wide = 14 + (RAMP + 12 if self._has_ramp() else 0) + breadth(self._title(), face) + 8 + 16 + 10
        return QSize(round(wide), max(round(HIGH * self.stage.text_scale), round(line_height(face)) + 12))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw ramp, words and chevron."""
        theme = tokens(self.stage)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            if self.hovered:
                plate(painter, QRectF(self.rect()).adjusted(1, 1, -1, -1), theme.well, radius=RADIUS_BUTTON)
            middle = self.height() / 2
            if self._open:
                self._chevron(painter, QPointF(self.width() / 2, middle), up=False)
                return
            x = 14.0
            if self._key is not None and self._tint is not None and self._has_ramp():
                draw_ramp(painter, QRectF(x, middle - 10, RAMP, 20), self._tint, self._key)
                x += RAMP + 12
            face = font("strong", self.stage)
            wide = breadth(self._title(), face)
            write(painter, QRectF(x, 0, wide + 2, self.height()), self._title(), face, theme.ink)
            self._chevron(painter, QPointF(x + wide + 16, middle), up=True)

    def _chevron(self, painter: QPainter, middle: QPointF, *, up: bool) -> None:
        painter.save()
        painter.translate(middle)
        if up:
            painter.rotate(180)
        paint_icon(painter, "open", QRectF(-9, -9, 18, 18), tokens(self.stage).ink)
        painter.restore()
