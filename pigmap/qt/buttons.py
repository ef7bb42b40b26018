"""Buttons with words, drawn by us: plain ones, switches that stay pressed, and links in a sentence."""

from __future__ import annotations

from time import monotonic
from typing import Literal, NamedTuple

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QEnterEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

from pigmap.qt.kept_picture import KeptPicture
from pigmap.qt.paintwork import Middle, breadth, line_height, plate, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import RADIUS_BUTTON, font, tokens

Look = Literal["plain", "switch", "toggle", "link"]


SECOND_PRESS_S = 0.5
"""A second press on the same spot within this time is meant for what lay there before [s]."""
SAME_SPOT_PX = 8.0


class _Press(NamedTuple):
    """The last press on a button of a window: when, where, on which, and what that said."""

    at: float
    spot: QPointF
    button: int
    words: str

    def meant(self, now: _Press) -> bool:
        """Whether a press now is still meant for the button of this one, which is another now."""
        near = (now.spot - self.spot).manhattanLength() < SAME_SPOT_PX
        return near and now.at - self.at < SECOND_PRESS_S and now[2:] != self[2:]


_NEXT = {Qt.Key.Key_Left: -1, Qt.Key.Key_Up: -1, Qt.Key.Key_Right: 1, Qt.Key.Key_Down: 1}


class Button(QAbstractButton):
    """A button of ours; arrows pass through it, so that they step days and groups wherever the focus is.

    Of buttons of which one is always on, Tab reaches the one that is on and the arrows choose another. The second
    press of a double click counts only where the first one did: by then another button may lie there.
    """

    def __init__(self, stage: Stage, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.stage = stage
        self.hovered = False
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Space and Enter, and the arrows among several of which one is on; leave the rest to the window."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        elif event.key() in _NEXT and self._choose(_NEXT[Qt.Key(event.key())]):
            event.accept()
        elif event.key() == Qt.Key.Key_Space:
            super().keyPressEvent(event)
        else:
            event.ignore()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take a press, unless it is the second one of a double click on what lay here before."""
        window = self.window()
        now, last = _Press(monotonic(), event.globalPosition(), id(self), self.text()), window.property("last_press")
        if isinstance(last, _Press) and last.meant(now):
            event.accept()
            return
        window.setProperty("last_press", now)
        super().mousePressEvent(event)

    def _choose(self, by: int) -> bool:
        """Turn on the next of those of which one is on, round and round; return whether it is one of such."""
        group = self.group()
        if group is None or not group.exclusive():
            return False
        row = [each for each in group.buttons() if not each.isHidden() and each.isEnabled()]
        at = row[(row.index(self) + by) % len(row)]
        at.setChecked(True)
        at.setFocus(Qt.FocusReason.TabFocusReason)
        return True

    def enterEvent(self, event: QEnterEvent) -> None:
        """Show that it can be pressed."""
        self.hovered = True
        self.update()
        super().enterEvent(event)

    def leaveEvent(self, event: QEvent) -> None:
        """Go back to rest."""
        self.hovered = False
        self.update()
        super().leaveEvent(event)


class WordButton(Button):
    """A button that is a word or two.

    Parameters
    ----------
    words
        What it says; also its accessible name.
    look
        ``plain`` has an edge; of several ``switch`` buttons in wells the one that is on is inked; a ``toggle`` has an
        ink edge while on; a ``link`` is blue words.
    """

    def __init__(self, stage: Stage, words: str, look: Look = "plain", parent: QWidget | None = None) -> None:
        super().__init__(stage, parent)
        self.look = look
        self._kept = KeptPicture()
        self.setText(words)
        self.setAccessibleName(words)
        self.setCheckable(look in ("switch", "toggle"))

    def sizeHint(self) -> QSize:
        """Return the room that the words take."""
        face = font("strong", self.stage)
        pad_x, high = {"plain": (18, 40), "switch": (12, 32), "toggle": (10, 40), "link": (4, 32)}[self.look]
        return QSize(
            round(breadth(self.text(), face)) + 2 * pad_x,
            max(round(high * self.stage.text_scale), round(line_height(face)) + 8),
        )

    def paintEvent(self, event: QPaintEvent) -> None:
        """Show the plate and the words."""
        state = (self.text(), self.isChecked(), self.isDown(), self.isEnabled(), self.hovered)
        self._kept.show(self, (*state, self.look, self.stage.theme, self.stage.text_scale), self._draw)

    def _draw(self, painter: QPainter) -> None:
        theme = tokens(self.stage)
        box = QRectF(self.rect())
        pressed = self.isChecked() or self.isDown()
        ink = theme.ink if self.isEnabled() else theme.off
        if self.look == "plain":
            fill = theme.well if self.hovered and self.isEnabled() else theme.plate
            plate(painter, box, theme.ink if pressed else fill, theme.edge, width=1.4, radius=RADIUS_BUTTON)
        elif self.look == "switch":
            plate(
                painter,
                box,
                theme.ink if pressed else theme.well,
                theme.edge if self.hovered else "",
                width=1.4,
                radius=RADIUS_BUTTON,
            )
        elif self.look == "toggle":
            edge, wide = (theme.ink, 2.2) if self.isChecked() else (theme.edge, 1.0)
            plate(painter, box, theme.plate if self.isChecked() else theme.well, edge, width=wide, radius=RADIUS_BUTTON)
            pressed, ink = False, ink if self.isChecked() else theme.ink2
        colour = theme.plan if self.look == "link" else (theme.paper if pressed else ink)
        write(painter, box.adjusted(2, 0, -2, 0), self.text(), font("strong", self.stage), colour, Middle)
