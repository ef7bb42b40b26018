"""The plate beside the ghost: nets, area, rest and rooting, or why not here and what puts it right."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QPoint, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import QLineEdit, QWidget

from pigmap.builtin.tools.place_figures import PlateWords, Row
from pigmap.qt.buttons import WordButton
from pigmap.qt.icons import paint_icon
from pigmap.qt.paintwork import Left, Right, line_height, plate, rule, shadow, wrapped_height, write, write_wrapped
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens
from pigmap.session.placing import LONGEST_REASON

WIDE_PX = 288
SHADOW_PX = 6
PAD = 15.0
NAME_PX = 68.0
APART_PX = 44
"""Room between ghost and plate, for the leader."""


class PlacePlate(QWidget):
    """Figures on a leader; never under the pointer.

    Parameters
    ----------
    reason
        Called with the words with which the paddock is to be placed in spite of what is against it.
    """

    def __init__(self, stage: Stage, parent: QWidget, reason: Callable[[str], object]) -> None:
        super().__init__(parent)
        self.stage = stage
        self._over = parent
        self._reason = reason
        self.words: PlateWords | None = None
        self._picture = QPixmap()
        self._button = WordButton(stage, stage.say("Place it all the same, with a reason"), "plain", self)
        self._button.clicked.connect(self.ask_reason)
        self._line = _ReasonLine(self)
        self._line.setPlaceholderText(stage.say("Why here all the same"))
        self._line.setAccessibleName(stage.say("Why here all the same"))
        self._line.setMaxLength(LONGEST_REASON)
        self._line.returnPressed.connect(self._take)
        self._line.hide()
        self.ready: list[WordButton] = []
        """Ready reasons, below the line while one is asked for."""
        self.hide()

    @property
    def asking(self) -> bool:
        """Whether a reason is being typed."""
        return not self._line.isHidden()

    def say(self, words: PlateWords, keep_clear: QRect, spot: QPoint | None = None) -> QPoint:
        """Say something beside a rectangle of the map; return where the leader begins.

        Parameters
        ----------
        words
            What to say.
        keep_clear
            The ghost, in pixels of the map.
        spot
            Where it offends, if it does: the plate keeps off it.
        """
        if words != self.words:
            self.words = words
            self._lay_out()
            self.setAccessibleName(f"{words.head}. {words.against} {words.remedy}".strip())
            self.update()
        self.move(_beside(self.size(), self._over.size(), keep_clear, self._others()) - QPoint(SHADOW_PX, SHADOW_PX))
        self.show()
        box = self.geometry().adjusted(SHADOW_PX, SHADOW_PX, -SHADOW_PX, -SHADOW_PX)
        return _nearest(box, spot if spot is not None else keep_clear.center())

    def _others(self) -> list[QRect]:
        """Return where other plates lie over the map."""
        plates = self._over.findChildren(QWidget, options=Qt.FindChildOption.FindDirectChildrenOnly)
        return [each.geometry() for each in plates if each is not self and each.isVisible()]

    def ask_reason(self) -> None:
        """Open the line for a reason with the ready ones below it, where one helps."""
        if self.words is None or not self.words.overridable or self.asking:
            return
        self._line.clear()
        self._line.show()
        self._set_ready(self.words.reasons)
        self._lay_out()
        self.keep_in_view()
        self.raise_()
        self._line.setFocus(Qt.FocusReason.OtherFocusReason)

    def keep_in_view(self) -> None:
        """Move up where the plate has grown beyond the lower edge."""
        lowest = self._over.height() - self.height() + SHADOW_PX - 8
        self.move(self.x(), max(min(self.y(), lowest), 8 - SHADOW_PX))

    def drop_reason(self) -> None:
        """Close the line for a reason."""
        if self.asking:
            self._line.hide()
            self._set_ready(())
            self._lay_out()
            self._over.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Close the line for a reason on Esc, wherever in the plate the focus is."""
        if event.key() == Qt.Key.Key_Escape and self.asking:
            self.drop_reason()
            return
        super().keyPressEvent(event)

    def _set_ready(self, reasons: Sequence[str]) -> None:
        for button in self.ready:
            button.hide()
            button.deleteLater()
        self.ready = [self._ready_button(reason) for reason in reasons]
        after: QWidget = self._line
        for button in self.ready:
            QWidget.setTabOrder(after, button)
            after = button

    def _ready_button(self, reason: str) -> WordButton:
        button = WordButton(self.stage, reason, "plain", self)
        button.clicked.connect(lambda: self._give(reason))
        button.show()
        return button

    def _take(self) -> None:
        self._give(self._line.text().strip())

    def _give(self, why: str) -> None:
        if why:
            self.drop_reason()
            self._reason(why)

    def _lay_out(self) -> None:
        high = round(self._draw(None))
        foot = self.words is not None and self.words.overridable
        self._button.setVisible(foot and not self.asking)
        deep = max(40, self._button.sizeHint().height())
        if foot or self.asking:
            for each in (self._line if self.asking else self._button, *self.ready):
                each.setGeometry(QRect(SHADOW_PX + 12, SHADOW_PX + high, WIDE_PX - 24, deep))
                high += deep + 8
            high += 4
        self.setFixedSize(WIDE_PX + 2 * SHADOW_PX, high + 2 * SHADOW_PX)
        self._paint()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Copy the plate; it is painted once for what it says, since it moves with the ghost."""
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._picture)
        painter.end()

    def _paint(self) -> None:
        density = self.devicePixelRatioF()
        self._picture = QPixmap(round(self.width() * density), round(self.height() * density))
        self._picture.setDevicePixelRatio(density)
        self._picture.fill(Qt.GlobalColor.transparent)
        if self.words is None:
            return
        theme = tokens(self.stage)
        painter = QPainter(self._picture)
        box = QRectF(self.rect()).adjusted(SHADOW_PX, SHADOW_PX, -SHADOW_PX, -SHADOW_PX)
        shadow(painter, box)
        edge = theme.no if self.words.against else theme.plan
        plate(painter, box, theme.plate, edge, width=2.0)
        painter.translate(SHADOW_PX, SHADOW_PX)
        if self.words.against:
            painter.save()
            painter.setClipRect(QRectF(0, 0, WIDE_PX, self._head_high))
            plate(painter, QRectF(0, 0, WIDE_PX, self._head_high + 20), theme.no)
            painter.restore()
        self._draw(painter)
        painter.end()

    # The contents; without a painter only their height is found

    @property
    def _head_high(self) -> float:
        return line_height(font("heading", self.stage)) + 20

    def _draw(self, painter: QPainter | None) -> float:
        words = self.words
        if words is None:
            return 0.0
        y = self._draw_against(painter, words) if words.against else self._draw_head(painter, words)
        for row in words.rows if not words.against else (words.nets, *words.rows):
            y = self._draw_row(painter, row, y, quiet=bool(words.against))
        for care in words.cares:
            y = self._draw_care(painter, care, y)
        return y + 8

    def _draw_head(self, painter: QPainter | None, words: PlateWords) -> float:
        theme, wide = tokens(self.stage), WIDE_PX - 2 * PAD
        head, second = font("title", self.stage, weight=700), font("second", self.stage)
        y = 10.0
        if painter is not None:
            write(painter, QRectF(PAD, y, wide, line_height(head)), words.head, head, theme.ink)
        y += line_height(head) + 2
        if painter is not None:
            write(painter, QRectF(PAD, y, wide, line_height(second)), words.second, second, theme.ink2)
        return y + line_height(second) + 6

    def _draw_against(self, painter: QPainter | None, words: PlateWords) -> float:
        theme, wide = tokens(self.stage), WIDE_PX - 2 * PAD
        head, strong = font("heading", self.stage), font("strong", self.stage, weight=500)
        if painter is not None:
            high = self._head_high
            paint_icon(painter, "refused", QRectF(PAD, (high - 20) / 2, 20, 20), theme.plate)
            write(painter, QRectF(PAD + 30, 0, wide - 30, high), self.stage.say("Not here"), head, theme.plate)
        y = self._head_high + 10
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
            rule(painter, PAD, WIDE_PX - PAD, y, theme.line)
            box = QRectF(PAD, y, WIDE_PX - 2 * PAD, high)
            write(painter, box, row.name, name, theme.ink2, Left)
            taken = write(
                painter,
                box.adjusted(NAME_PX, 0, 0, 0),
                row.figure,
                figure,
                theme.ink2 if quiet else theme.ink,
                Left,
            )
            write(painter, box.adjusted(NAME_PX + taken + 8, 0, 0, 0), row.beside, name, theme.ink2, Right)
        return y + high

    def _draw_care(self, painter: QPainter | None, care: str, y: float) -> float:
        theme, wide = tokens(self.stage), WIDE_PX - 2 * PAD
        face = font("second", self.stage, weight=500)
        high = wrapped_height(care, face, wide - 36)
        if painter is not None:
            plate(painter, QRectF(PAD - 4, y + 2, wide + 8, high + 14), theme.warnbg, radius=6)
            paint_icon(painter, "care", QRectF(PAD + 3, y + 8, 18, 18), theme.warn)
            write_wrapped(painter, QRectF(PAD + 30, y + 9, wide - 34, high + 2), care, face, theme.warn)
        return y + high + 20


class _ReasonLine(QLineEdit):
    """The line for a reason; Esc closes it."""

    def __init__(self, plate: PlacePlate) -> None:
        super().__init__(plate)
        self._plate = plate

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Close on Esc; the line takes every other key."""
        if event.key() == Qt.Key.Key_Escape:
            self._plate.drop_reason()
            return
        super().keyPressEvent(event)
        event.accept()


def _beside(size: QSize, room: QSize, clear: QRect, others: Sequence[QRect]) -> QPoint:
    """Return where a plate fits beside a rectangle: below, above, right or left of it, all in view, on no other."""
    size = size - QSize(2 * SHADOW_PX, 2 * SHADOW_PX)
    right, bottom = max(8, room.width() - size.width() - 8), max(8, room.height() - size.height() - 8)

    def held(x: int, y: int) -> QPoint:
        return QPoint(min(max(x, 8), right), min(max(y, 8), bottom))

    across, down = clear.center().x() - size.width() // 2, clear.center().y() - size.height() // 2
    after, before = clear.right() + APART_PX, clear.left() - APART_PX - size.width()
    below, above = clear.bottom() + APART_PX, clear.top() - APART_PX - size.height()
    ways = [held(*way) for way in ((across, below), (after, down), (before, down), (across, above))]
    ways += [held(*way) for way in ((after, below), (after, above), (before, above), (right, 8), (right, bottom))]

    def cost(at: QPoint) -> int:
        box = QRect(at, size)
        return 4 * _overlap(box, clear) + sum(_overlap(box, other) for other in others)

    return min(ways, key=cost)


def _overlap(box: QRect, clear: QRect) -> int:
    both = box.intersected(clear.adjusted(-8, -8, 8, 8))
    return max(both.width(), 0) * max(both.height(), 0)


def _nearest(box: QRect, to: QPoint) -> QPoint:
    """Return the point of a box's edge that is nearest to a point outside it."""
    x = min(max(to.x(), box.left() + 12), box.right() - 12) if not box.top() <= to.y() <= box.bottom() else to.x()
    return QPoint(min(max(x, box.left()), box.right()), min(max(to.y(), box.top()), box.bottom()))
