"""A verb: an icon over its word, its key at the upper right; inked while it has the pointer."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from pigmap.qt.buttons import Button
from pigmap.qt.icons import paint_icon
from pigmap.qt.paintwork import Middle, Right, breadth, line_height, plate, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import RADIUS_PANEL, font, tokens

ICON = 24


class VerbButton(Button):
    """One verb of the row."""

    def __init__(self, stage: Stage, icon_name: str, words: str, key: str, parent: QWidget) -> None:
        super().__init__(stage, parent)
        self.icon_name = icon_name
        self.key_words = key
        self.is_close = False
        """Whether it stands close to the others, without its key: the row is short."""
        self.setText(words)
        self.setAccessibleName(words)
        self.setToolTip(f"{words} ({key})" if key else words)

    def sizeHint(self) -> QSize:
        """Return the room it takes."""
        scale = self.stage.text_scale
        if self.is_close:
            wide = max(ICON + 20, round(breadth(self.text(), font("strong", self.stage))) + 12)
            return QSize(wide, round(56 * scale))
        least = {"narrow": 72, "small": 76}.get(self.stage.room.name, 80)
        beside = ICON + 2 * (breadth(self.key_words, font("tick", self.stage)) + 12)
        wide = max(round(least * scale), round(breadth(self.text(), font("strong", self.stage))) + 20, round(beside))
        return QSize(wide, round(56 * scale))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw icon, word and key."""
        theme = tokens(self.stage)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            box = QRectF(self.rect())
            pressed = self.isChecked() or self.isDown()
            if pressed:
                plate(painter, box, theme.ink, radius=RADIUS_PANEL)
            elif self.hovered and self.isEnabled():
                plate(painter, box, theme.well, radius=RADIUS_PANEL)
            colour = theme.paper if pressed else (theme.ink if self.isEnabled() else theme.off)
            word, hint = font("strong", self.stage), font("tick", self.stage)
            block = ICON + 3 + line_height(word)
            top = (box.height() - block) / 2
            paint_icon(painter, self.icon_name, QRectF((box.width() - ICON) / 2, top, ICON, ICON), colour)
            write(painter, QRectF(0, top + ICON + 3, box.width(), line_height(word)), self.text(), word, colour, Middle)
            key_colour = theme.paper if pressed else theme.ink2
            if self.is_close:
                return
            write(painter, QRectF(0, 3, box.width() - 8, line_height(hint)), self.key_words, hint, key_colour, Right)
