"""The season strip: a row for each group, stays as bars, the date handle; dragging shows the farm at any day."""

from __future__ import annotations

from datetime import timedelta

from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QHelpEvent, QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QToolTip, QWidget

from pigmap.builtin.panels.date_handle import arrow_at, on_handle
from pigmap.builtin.panels.season_drag import EndDrag, least_out
from pigmap.builtin.panels.season_edges import EdgeScroll
from pigmap.builtin.panels.season_marks import mark_words
from pigmap.builtin.panels.season_rows import bar_at, grip_at
from pigmap.builtin.panels.season_view import SeasonView
from pigmap.qt.stage import Picked, Stage

CLICK = 4
"""How far the pointer may move in a click [px]."""


class Season(SeasonView):
    """The strip along the foot of the window."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent)
        self._pressed: QPointF | None = None
        self._step = 0
        """Days to step when the button is let go: the press was on an arrow of the flag, and no drag yet."""
        self._edges = EdgeScroll(self._scroll_on, self)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the handle, of a bar's end or of the days."""
        if event.button() != Qt.MouseButton.LeftButton:
            return
        at, strip = event.position(), self.strip
        self._pressed = at
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        if at.x() < strip.scale.left:
            self._drag = ""
            return
        way = arrow_at(strip, self.stage, at.x(), at.y())
        if way:
            self._drag, self._step = "handle", way
            return
        grip = grip_at(self._book, strip, self.stage.today, at.x(), at.y())
        if grip is not None and not self.stage.session.read_only:
            self._drag, self._end = "end", EndDrag(grip, least_out(self.stage, grip.stay))
        elif on_handle(strip, self.stage, at.x(), at.y()) or at.y() < strip.top:
            self._drag = "handle"
            if not on_handle(strip, self.stage, at.x(), at.y()):
                self.stage.show_day(strip.scale.day_at(at.x()))
        else:
            self._drag = "days"

    def event(self, event: QEvent) -> bool:
        """Say what a mark under the pointer stands for."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            at = event.pos()
            words = mark_words(self.stage.session.farm, self.strip, self.stage, at.x(), at.y())
            QToolTip.showText(event.globalPos(), words, self)
            return True
        return super().event(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Follow a drag, or tell by the cursor what a press would do."""
        at = event.position()
        if self._step and self._pressed is not None and (at - self._pressed).manhattanLength() <= CLICK:
            return
        self._step = 0
        if self._drag in ("handle", "end"):
            self._edges.follow(self.strip.scale, at)
            self._follow(at)
        elif self._drag == "days" and self._pressed is not None:
            self._scale = self.strip.scale.moved(self._pressed.x() - at.x())
            if (at - self._pressed).manhattanLength() > CLICK:
                self._scrolled = True
                self._drag, self._pressed = "panning", at
            self._redraw()
        elif self._drag == "panning" and self._pressed is not None:
            self._scale = self.strip.scale.moved(self._pressed.x() - at.x())
            self._pressed = at
            self._redraw()
        else:
            self._show_cursor(at)

    def _follow(self, at: QPointF) -> None:
        """Have what is dragged follow the pointer, or the nearest day in view."""
        scale = self.strip.scale
        x = min(max(at.x(), scale.left), scale.right)
        if self._end is not None:
            self._end.follow(self.strip, x)
            self.update()
        else:
            self.stage.show_day(scale.day_at(x))

    def _scroll_on(self, step: float, at: QPointF) -> None:
        self._scale, self._scrolled = self.strip.scale.moved(step), True
        self._follow(at)
        self._redraw()

    def _show_cursor(self, at: QPointF) -> None:
        strip = self.strip
        shape = Qt.CursorShape.ArrowCursor
        if at.x() >= strip.scale.left:
            if grip_at(self._book, strip, self.stage.today, at.x(), at.y()) is not None:
                shape = Qt.CursorShape.SizeHorCursor
            elif on_handle(strip, self.stage, at.x(), at.y()):
                shape = Qt.CursorShape.OpenHandCursor
            elif bar_at(self._book, strip, self.stage.today, at.x(), at.y()) is not None:
                shape = Qt.CursorShape.PointingHandCursor
        self.setCursor(shape)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Finish a drag; a click picks the bar, or the row's group, or shows the day."""
        drag, self._drag = self._drag, ""
        self._edges.stop()
        if drag == "handle":
            self.stage.show_day(self.stage.day + timedelta(days=self._step))
            self._step = 0
            self._show_day()
        elif drag == "end" and self._end is not None:
            self._end.finish(self.stage)
            self._end = None
            self.update()
        elif drag == "days":
            self._click(event.position())
        elif self._pressed is not None and event.position().x() < self.strip.scale.left:
            self._click_label(event.position())
        self._pressed = None

    def _click(self, at: QPointF) -> None:
        bar = bar_at(self._book, self.strip, self.stage.today, at.x(), at.y())
        if bar is not None:
            self.stage.pick(Picked("stays", bar.stay.uid))
        else:
            self.stage.show_day(self.strip.scale.day_at(at.x()))

    def _click_label(self, at: QPointF) -> None:
        strip = self.strip
        row = int((at.y() - strip.top) // strip.row)
        if 0 <= row < len(strip.rows):
            self.stage.pick(Picked("groups", strip.rows[row].uid))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Scroll time, or zoom days with Ctrl; over the labels, scroll the rows."""
        turned = event.angleDelta().y() or event.angleDelta().x()
        x = event.position().x()
        if x < self.strip.scale.left:
            most = max(0, len(self.strip.groups) - self.strip.visible)
            self._first_row = min(max(0, self._first_row - (1 if turned > 0 else -1)), most)
        elif event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self._scrolled = True
            self._scale = self.strip.scale.zoomed(1.0015**turned, x)
        else:
            self._scrolled = True
            self._scale = self.strip.scale.moved(-turned / 120 * 90)
        self._redraw()
        event.accept()


class _Panel:
    name = "season"
    place = "season"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the strip."""
        return Season(stage, parent)


panel = _Panel()
