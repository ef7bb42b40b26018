"""The line over the map that tells what the ground under the pointer went through."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from pigmap.qt.over_map import MARGIN, TOP_ROOM
from pigmap.qt.paintwork import SHADOW, breadth, line_height, plate, shadow, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import RADIUS_BUTTON, font, tokens

PAD = 10
FOR_SCALE = 220
"""Kept free at the right for scale bar and north, at text size 100 % [px]."""
LEAST_WIDE = 200
STEP = 60
"""Its breadth goes by such steps: it changes less often, and a shadow that was drawn serves again [px]."""


class StoryLine(QWidget):
    """Lies at the map's upper left; the pointer goes through it, and it is gone once the pointer leaves the map."""

    def __init__(self, stage: Stage, over: QWidget) -> None:
        super().__init__(over)
        self.stage, self._over = stage, over
        self.words = ""
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        over.installEventFilter(self)
        self.hide()

    def tell(self, words: str) -> None:
        """Show words, or nothing."""
        if words == self.words:
            return
        self.words = words
        self.setAccessibleName(words)
        if not words:
            self.hide()
            return
        face = font("second", self.stage, weight=500)
        scale = self.stage.text_scale
        most = max(self._over.width() - 2 * MARGIN - round(FOR_SCALE * scale), LEAST_WIDE)
        wide = min(-(-round(breadth(words, face) + 2) // STEP) * STEP + 2 * (PAD + SHADOW), most)
        top = round(TOP_ROOM * max(scale, 1.0)) if self.stage.room.name == "narrow" else MARGIN
        self.setGeometry(MARGIN, top, wide, round(line_height(face)) + 12 + 2 * SHADOW)
        self.show()
        self.lower()  # plates and panels over the map lie above it
        self.update()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Go when the pointer leaves the map."""
        if watched is self._over and event.type() == QEvent.Type.Leave:
            self.tell("")
        return False

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the plate and the line on it."""
        theme = tokens(self.stage)
        with QPainter(self) as painter:
            box = QRectF(self.rect()).adjusted(SHADOW, SHADOW, -SHADOW, -SHADOW)
            shadow(painter, box, RADIUS_BUTTON)
            plate(painter, box, theme.plate, theme.line if theme.name == "dark" else "", radius=RADIUS_BUTTON)
            face = font("second", self.stage, weight=500)
            write(painter, box.adjusted(PAD, 0, -PAD, 0), self.words, face, theme.ink)
