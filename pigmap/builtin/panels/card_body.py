"""The inside of a card: measured and drawn by one and the same walk from top to bottom."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QScrollArea, QWidget

from pigmap.builtin.panels.card_facts import CardFacts, Fact
from pigmap.qt.group_sign import draw_group_sign
from pigmap.qt.icons import paint_icon
from pigmap.qt.paintwork import (
    Right,
    breadth,
    line_height,
    plate,
    rule,
    wrapped_height,
    write,
    write_wrapped,
)
from pigmap.qt.stage import Stage
from pigmap.qt.theme import RADIUS_BUTTON, font, tokens
from pigmap.qt.why import spoken, why_height, write_why

SIGN = 32.0
LABEL_LEAST = 68.0
GAP = 10.0
FOR_CLOSE = 36.0
LEFT, RIGHT = 6, 4
"""Kept free beside the words, for the frame of the row that the keys are at [px]."""
FRAME = 2.4
FOR_RING = 10.0
"""Kept free below the line for a name, for the ring round it [px]."""


class CardBody(QWidget):
    """Draws the facts of a card; knows how high it is at a breadth.

    A row that knows what it rests on says so beneath itself when it is touched, or chosen with Up and Down and Enter.
    """

    grown = Signal()
    """What is shown beneath a row came or went."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.facts = CardFacts("")
        self.columns = 1
        self.title_shown = True
        self.below_head = 0
        """Kept free between head and rows, for a picture that lies there [px]."""
        self.picture_y = 0
        """Where such a picture begins [px]."""
        self.asked = ""
        """Label of the row whose why is shown."""
        self._at = 0
        self._label_wide = LABEL_LEAST
        self._boxes: dict[int, QRectF] = {}
        self._ends: list[float] = []
        """Where head, rows and cautions ended when it was measured or drawn last."""
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setProperty("no_ring", True)  # the row that the keys are at has a frame
        self.setAccessibleName(stage.say("Figures: Enter tells what one rests on"))

    def forget(self) -> None:
        """Put away what a row rests on: the card is of another thing now."""
        self.asked, self._at = "", 0

    def ask(self, at: int) -> None:
        """Show what a row rests on, or put it away again."""
        if not 0 <= at < len(self.facts.facts):
            return
        fact = self.facts.facts[at]
        self._at = at
        if fact.why is not None:
            key = f"{at} {fact.label}"
            self.asked = "" if self.asked == key else key
        self._tell()
        self.grown.emit()
        self._come_into_sight()
        self.update()

    def _tell(self) -> None:
        if 0 <= self._at < len(self.facts.facts):
            fact = self.facts.facts[self._at]
            why = f", {spoken(fact.why)}" if fact.why is not None and self._shows(self._at) else ""
            self.setAccessibleName(f"{fact.label}: {fact.figure}{why}")

    def _shows(self, at: int) -> bool:
        return self.asked == f"{at} {self.facts.facts[at].label}"

    def _come_into_sight(self) -> None:
        """Have what the row rests on in sight, where the card scrolls."""
        self.grab()  # the boxes of the rows are known once it was drawn
        port = self.parentWidget()
        around = port.parentWidget() if port is not None else None
        if isinstance(around, QScrollArea):
            around.ensureVisible(0, round(self.asked_box().bottom()), 0, 4)

    def asked_box(self) -> QRectF:
        """Return where the row lies that the keys are at."""
        return self._boxes.get(self._at, QRectF())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Ask the row that is touched."""
        spot = QPointF(event.position()) - QPointF(LEFT, 0)
        for at, box in self._boxes.items():
            if box.contains(spot):
                self.ask(at)
                return

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go from row to row, and ask."""
        step = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}.get(Qt.Key(event.key()))
        if step is not None and self.facts.facts:
            self._at = (self._at + step) % len(self.facts.facts)
            self._tell()
            self.update()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.ask(self._at)
        else:
            super().keyPressEvent(event)

    def heightForWidth(self, width: int) -> int:
        """Return the height at a breadth."""
        return round(self._walk(None, float(width)))

    def whole_within(self, width: int, most: int) -> int:
        """Return the height, of `most` at most, at which no row is cut in two where it is not scrolled."""
        self._walk(None, float(width))
        whole = max((int(end) for end in self._ends if end <= most), default=most)
        return whole if whole > most / 2 else most  # what a row rests on can be higher than all the room

    def head_box(self) -> QRectF:
        """Return where the title stands, for the field that renames."""
        room = self.width() - LEFT - RIGHT - SIGN - 12 - FOR_CLOSE
        return QRectF(SIGN + 12, 0, room, line_height(font("title", self.stage)) + 4)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw it."""
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._boxes = {}
            painter.translate(LEFT, 0)
            self._walk(painter, float(self.width() - LEFT - RIGHT))

    def _walk(self, painter: QPainter | None, wide: float) -> float:
        self.picture_y = round(self._head(painter, wide)) + 10
        y = self.picture_y - 2.0 + self.below_head
        self._ends = [y]
        for warning in self.facts.urgent:
            y = self._warning(painter, y, wide, warning, urgent=True)
            self._ends.append(y)
        y = self._rows(painter, y, wide)
        for warning in self.facts.warnings:
            y = self._warning(painter, y + 4, wide, warning)
            self._ends.append(y)
        return y + 4

    def _head(self, painter: QPainter | None, wide: float) -> float:
        stage, theme, facts = self.stage, tokens(self.stage), self.facts
        title, second = font("title", stage), font("body", stage, weight=500 if facts.planned else 0)
        x = SIGN + 12 if facts.sign is not None or facts.icon else 0.0
        room = wide - x - FOR_CLOSE
        name = wrapped_height(facts.title, title, room) + (0.0 if self.title_shown else FOR_RING)
        high = name + (line_height(second) if facts.second else 0)
        if painter is not None:
            mark = QRectF(0, (max(high, SIGN) - SIGN) / 2, SIGN, SIGN)
            if facts.sign is not None:
                dark = theme.edge if theme.name == "dark" else ""
                draw_group_sign(painter, mark, facts.sign[0], facts.sign[1], title, edge=dark)
            elif facts.icon:
                plate(painter, mark, theme.well, radius=RADIUS_BUTTON)
                paint_icon(painter, facts.icon, mark.adjusted(5, 5, -5, -5), theme.ink)
            top = (max(high, SIGN) - high) / 2
            if self.title_shown:
                write_wrapped(painter, QRectF(x, top, room, name + 2), facts.title, title, theme.ink)
            line = QRectF(x, top + name, wide - x, line_height(second))
            write(painter, line, facts.second, second, theme.plan if facts.planned else theme.ink2)
        return max(high, SIGN)

    def _rows(self, painter: QPainter | None, y: float, wide: float) -> float:
        """Draw the rows, in columns whose rows stand side by side."""
        count, label = len(self.facts.facts), font("second", self.stage)
        longest = max((breadth(each.label, label) for each in self.facts.facts), default=0.0)
        self._label_wide = max(LABEL_LEAST, longest + 12)
        room = (wide - (self.columns - 1) * 20) / self.columns
        per_column = -(-count // self.columns)
        for at in range(per_column):
            lowest = y
            for column, number in enumerate(range(at, count, per_column)):
                lowest = max(lowest, self._fact(painter, number, QRectF(column * (room + 20), y, room, 0.0)))
            y = lowest
            self._ends.append(y)
        return y

    def _fact(self, painter: QPainter | None, number: int, box: QRectF) -> float:
        """Draw a row, and beneath it what it rests on where that was asked; return where the next row begins."""
        x, y, wide = box.x(), box.y(), box.width()
        at = self._why(painter, number, x, self._row(painter, self.facts.facts[number], x, y, wide), wide)
        if painter is not None:
            self._boxes[number] = QRectF(x, y, wide, at - y)
            if self.hasFocus() and number == self._at:
                frame = self._boxes[number].adjusted(1 - LEFT, 1, RIGHT, -1)
                plate(painter, frame, "", tokens(self.stage).plan, width=FRAME, radius=RADIUS_BUTTON)
        return at

    def _row(self, painter: QPainter | None, fact: Fact, x: float, y: float, wide: float) -> float:
        stage, theme = self.stage, tokens(self.stage)
        label, figure, beside = font("second", stage), font("strong", stage), font("second", stage)
        left = self._label_wide
        room = wide - left
        high = max(line_height(figure), wrapped_height(fact.figure, figure, room))
        two = breadth(fact.figure, figure) + breadth(fact.rests_on, beside) + GAP > room and bool(fact.rests_on)
        step = high + (line_height(beside) if two else 0.0) + 12
        if painter is None:
            return y + step
        rule(painter, x, x + wide, y, theme.line)
        write(painter, QRectF(x, y + 6, left - 8, line_height(figure)), fact.label, label, theme.ink2)
        write_wrapped(painter, QRectF(x + left, y + 6, room, high + 2), fact.figure, figure, theme.ink)
        if two:
            below = QRectF(x + left, y + 6 + high, room, line_height(beside))
            write(painter, below, fact.rests_on, beside, theme.ink2)
        else:
            write(painter, QRectF(x, y + 6, wide, line_height(figure)), fact.rests_on, beside, theme.ink2, Right)
        return y + step

    def _why(self, painter: QPainter | None, number: int, x: float, y: float, wide: float) -> float:
        """Write beneath a row what it rests on, where that was asked; return where the next row begins."""
        why = self.facts.facts[number].why
        if why is None or not self._shows(number):
            return y
        if painter is not None:
            write_why(painter, self.stage, why, x, y, wide)
        return y + why_height(self.stage, why, wide)

    def _warning(self, painter: QPainter | None, y: float, wide: float, words: str, *, urgent: bool = False) -> float:
        stage, theme = self.stage, tokens(self.stage)
        face = font("second", stage, weight=500)
        high = wrapped_height(words, face, wide - 54)
        if painter is not None:
            box = QRectF(0, y, wide, high + 16)
            ink, ground = (theme.no, theme.nobg) if urgent else (theme.warn, theme.warnbg)
            plate(painter, box, ground, radius=RADIUS_BUTTON)
            paint_icon(painter, "refused" if urgent else "care", QRectF(12, y + 8, 20, 20), ink)
            write_wrapped(painter, QRectF(44, y + 8, wide - 54, high + 2), words, face, ink)
        return y + high + 16 + 4
