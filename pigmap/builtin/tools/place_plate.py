"""The plate beside the ghost: nets, area, rest and rooting, or why not here and what puts it right."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPoint, QRect, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPixmap, QWheelEvent
from PySide6.QtWidgets import QWidget

from pigmap.builtin.tools.place_deeds import PlaceDeeds
from pigmap.builtin.tools.place_figures import PlateWords
from pigmap.builtin.tools.place_reason import PlaceReason
from pigmap.builtin.tools.plate_drawing import Asked, PlateDrawing, figures_of
from pigmap.builtin.tools.plate_room import PlateRoom
from pigmap.builtin.tools.plate_spot import SHADOW_PX, beside, nearest
from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Stage
from pigmap.qt.why import Why, spoken

Whys = Callable[[str], Why]
"""Returns what a figure rests on, by what it is about."""
_NONE_HELD = (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier)


class PlacePlate(QWidget):
    """Figures on a leader; never under the pointer.

    A figure says beneath itself what it rests on when it is touched, or chosen with Up and Down and Enter, as on the
    cards. Only a ghost that is held lets itself be reached by the pointer.

    Parameters
    ----------
    reason
        Called with the words with which the paddock is to be placed in spite of what is against it.
    """

    grown = Signal()
    """What a figure rests on came or went."""

    def __init__(self, stage: Stage, parent: QWidget, reason: Callable[[str], object]) -> None:
        super().__init__(parent)
        self.stage = stage
        self._over = parent
        self._reason = reason
        self.words: PlateWords | None = None
        self._picture = QPixmap()
        self._foot = PlaceReason(stage, self, self.ask_reason, self.drop_reason, self._give)
        self.still: Callable[[], bool] = lambda: False
        """Whether the ghost is held, so that the pointer can come here."""
        self._drawing = PlateDrawing(stage)
        self._room = PlateRoom(self._drawing)
        self._asked = Asked()
        self._whys: Whys | None = None
        self._clear = QRect()
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.hide()

    @property
    def telling(self) -> bool:
        """Whether it shows what a figure rests on."""
        return self._asked.why is not None

    @property
    def asking(self) -> bool:
        """Whether a reason is being typed."""
        return self._foot.asking

    @property
    def ready(self) -> list[WordButton]:
        """Ready reasons, while one is asked for."""
        return self._foot.ready

    def offer(self, do: Callable[[str], object]) -> None:
        """Offer what can be done with a ghost that is held."""
        self._room.deeds = PlaceDeeds(self.stage, self, lambda name: self.turn() if name == "more" else do(name))

    @property
    def deeds(self) -> PlaceDeeds | None:
        """What can be done with a ghost that is held."""
        return self._room.deeds

    def say(self, words: PlateWords, keep_clear: QRect, spot: QPoint | None = None, whys: Whys | None = None) -> QPoint:
        """Say something beside a rectangle of the map; return where the leader begins.

        Parameters
        ----------
        words
            What to say.
        keep_clear
            The ghost, in pixels of the map.
        spot
            Where it offends, if it does: the plate keeps off it.
        whys
            Returns what a figure rests on; it is only asked for what is shown.
        """
        self._whys = whys
        held = words.held if self.still() else ""
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents, not self.still())
        if words != self.words or held != self._asked.held:
            self.words, self._asked, self._room.turned = words, self._asked._replace(held=held), 0
            self._ask(self._asked.at if self.telling else None)
        if not (self.telling and self.isVisible() and keep_clear == self._clear):
            at = beside(self.size(), self._over.size(), keep_clear, self._others())
            self.move(at - QPoint(SHADOW_PX, SHADOW_PX))
            self.keep_in_view()
        self._clear = keep_clear
        self.show()
        box = self.geometry().adjusted(SHADOW_PX, SHADOW_PX, -SHADOW_PX, -SHADOW_PX)
        return nearest(box, spot if spot is not None else keep_clear.center())

    def _others(self) -> list[QRect]:
        """Return where other plates lie over the map."""
        plates = self._over.findChildren(QWidget, options=Qt.FindChildOption.FindDirectChildrenOnly)
        return [each.geometry() for each in plates if each is not self and each.isVisible()]

    def ask_reason(self) -> None:
        """Open the line for a reason with the ready ones below it, where one helps."""
        if self.words is None or not self.words.overridable or self.asking:
            return
        self.put_away()
        self._foot.open(self.words.reasons)
        self._lay_out()
        self.keep_in_view()
        self.raise_()
        self._foot.take_the_keys()

    def keep_in_view(self) -> None:
        """Move up where the plate has grown beyond the lower edge, and have what is told in sight on a low map."""
        lowest = self._over.height() - self.height() + SHADOW_PX - 8
        y = min(self.y(), lowest)
        y = y if self.asking else max(y, 8 - SHADOW_PX)  # the line that is typed in comes before the head
        at = self._room.asked(self._asked).at
        if self.telling and at < len(self._drawing.boxes):
            y = min(y, self._over.height() - SHADOW_PX - 4 - round(self._drawing.boxes[at].bottom()))
        self.move(self.x(), y)

    def drop_reason(self) -> None:
        """Close the line for a reason."""
        if self.asking:
            self._foot.shut()
            self._lay_out()
            self.keep_in_view()
            self._over.setFocus(Qt.FocusReason.OtherFocusReason)

    # What the figures rest on

    def tell(self) -> None:
        """Take the keys, and show what the figure rests on that they are at."""
        if self.words is not None:
            self.drop_reason()
            self.raise_()
            self.setFocus(Qt.FocusReason.OtherFocusReason)
            self.ask(self._asked.at)

    def put_away(self) -> None:
        """Show the figures alone again, and give the keys back to the map."""
        if self.telling:
            self.ask(None)
            if self.hasFocus():
                self._over.setFocus(Qt.FocusReason.OtherFocusReason)

    def ask(self, at: int | None) -> None:
        """Show what a figure rests on, counted from above; None puts it away."""
        self._ask(at)
        self.grown.emit()

    def _ask(self, at: int | None) -> None:
        words, whys = self.words, self._whys
        if words is None:
            return
        figures = figures_of(words)
        chosen = min(self._asked.at if at is None else at, len(figures) - 1)
        why = whys(figures[chosen].about) if at is not None and whys is not None else None
        self._asked = Asked(chosen, why, self.hasFocus(), self._asked.held)
        before = self.geometry()
        self._lay_out()
        if before.center().y() < self._clear.top():
            self.move(before.left(), before.bottom() + 1 - self.height())  # it grows away from the ghost
        self.keep_in_view()
        self._name_itself(words)
        self.update()

    def _name_itself(self, words: PlateWords) -> None:
        """Say to a screen reader what is shown; while the keys are here, the figure that they are at."""
        if not self.hasFocus() and not self.telling:
            self.setAccessibleName(f"{words.head}. {words.against} {words.remedy}".strip())
            return
        row, why = figures_of(words)[self._asked.at], self._asked.why
        self.setAccessibleName(f"{row.name}: {row.figure} {row.beside}".strip() + (f", {spoken(why)}" if why else ""))

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Ring the figure that the keys are at."""
        super().focusInEvent(event)
        self._ask(self._asked.at if self.telling else None)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take the ring away."""
        super().focusOutEvent(event)
        self._ask(self._asked.at if self.telling else None)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take the pointer where the ghost is held; else the map has it."""
        event.setAccepted(self.still())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Leave the map as it is while the pointer is here."""
        event.setAccepted(self.still())

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Move a plate that is higher than the map up and down."""
        least, most = self._over.height() - self.height() + SHADOW_PX - 8, 8 - SHADOW_PX
        if least < most:
            self.move(self.x(), min(max(self.y() + event.angleDelta().y() // 2, least), most))
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Ask the figure that is touched, or put away what it rests on."""
        spot = event.position() - QPoint(SHADOW_PX, SHADOW_PX).toPointF()
        at = next((number for number, box in enumerate(self._drawing.boxes) if box.contains(spot)), None)
        event.setAccepted(self.still())
        if at is not None and self.still() and self._room.page is not None:
            at = self._room.page.figures[at]
            self.ask(None if self.telling and at == self._asked.at else at)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go from figure to figure and ask; Esc closes what is open, the line for a reason first."""
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Escape and (self.asking or self.telling):
            self.drop_reason()
            self.put_away()
        elif not (self.hasFocus() and event.modifiers() in _NONE_HELD and self._take_key(key)):
            super().keyPressEvent(event)

    def _take_key(self, key: Qt.Key) -> bool:
        """Do what a key asks of the figures; return whether it asked for anything."""
        step = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}.get(key)
        if step is not None and self.words is not None:
            at = (self._asked.at + step) % len(figures_of(self.words))
            self._asked = self._asked._replace(at=at)
            self.ask(at if self.telling else None)
            return True
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.ask(None if self.telling else self._asked.at)
            return True
        return False

    # The line for a reason

    def _give(self, why: str) -> None:
        if why:
            self.drop_reason()
            self._reason(why)

    def turn(self) -> None:
        """Show the next page of what has no room, after the last one the first."""
        self.put_away()
        self._room.turned += 1
        self._ask(None)

    def _lay_out(self) -> None:
        offered = self.words is not None and self.words.overridable
        left, wide = SHADOW_PX + 12, self._drawing.wide - 24
        foot = self._foot.lay(left, 0, wide, offered=offered)
        if self.words is not None:
            self._room.find(self.words, self._asked, self._over.height() - 16 - foot, self._deeds_offered())
        end = self._foot.lay(left, SHADOW_PX + self._room.height(self._asked), wide, offered=offered)
        end = self._room.lay_deeds(end)
        self.setFixedSize(self._drawing.wide + 2 * SHADOW_PX, end + SHADOW_PX)
        if self._room.page is not None:
            said, asked = self._room.page.words, self._room.asked(self._asked)
            self._picture = self._drawing.picture(self.size(), self.devicePixelRatioF(), said, asked)

    def _deeds_offered(self) -> tuple[str, ...]:
        words = self.words
        if words is None or self.asking or not self._asked.held:
            return ()
        set_it = () if words.against or not words.rows else ("set",)
        return (*set_it, *words.deeds)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Copy the plate; it is painted once for what it says, since it moves with the ghost."""
        with QPainter(self) as painter:
            painter.drawPixmap(0, 0, self._picture)
