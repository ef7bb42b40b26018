"""The ring around whatever has the focus: one overlay for every control, never over the map."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QWidget

from pigmap.qt.paintwork import plate
from pigmap.qt.stage import Stage
from pigmap.qt.theme import RADIUS_BUTTON, tokens

_RING, _GAP = 3, 2


class FocusRing(QWidget):
    """A see-through child of the window that follows the focus."""

    def __init__(self, stage: Stage, window: QWidget) -> None:
        super().__init__(window)
        self._stage = stage
        self._window = window
        self._around: QWidget | None = None
        self._watched: list[QWidget] = []
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.hide()
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self.follow)

    def follow(self, _: QWidget | None, now: QWidget | None) -> None:
        """Move to the control that has the focus now."""
        for each in self._watched:
            each.removeEventFilter(self)
        inside = now is not None and now is not self._window and self._window.isAncestorOf(now)
        wanted = inside and now is not None and not now.property("no_ring")
        self._around = now if wanted else None
        self._watched = self._up_from(self._around)
        for each in self._watched:
            each.installEventFilter(self)
        self._settle()

    def _up_from(self, around: QWidget | None) -> list[QWidget]:
        """Return a control and all it lies in: what scrolls takes it along without moving it."""
        found: list[QWidget] = []
        while around is not None and around is not self._window:
            found.append(around)
            around = around.parentWidget()
        return found

    def _settle(self) -> None:
        around = self._around
        if around is None:
            self.hide()
            return
        grown = _RING + _GAP
        corner = around.mapTo(self._window, around.rect().topLeft())
        box = around.rect().translated(corner).adjusted(-grown, -grown, grown, grown)
        for each in self._watched[1:]:
            if isinstance(each.parentWidget(), QAbstractScrollArea):  # what is scrolled away has no ring round it
                box = box.intersected(each.rect().translated(each.mapTo(self._window, each.rect().topLeft())))
        self.setGeometry(box.intersected(self._window.rect()))
        self.setVisible(around.isVisible() and box.isValid())
        self.raise_()
        self.update()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep to the control while it moves."""
        if event.type() in (QEvent.Type.Move, QEvent.Type.Resize, QEvent.Type.Hide, QEvent.Type.Show):
            self._settle()
        return False

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the ring."""
        with QPainter(self) as painter:
            plate(painter, QRectF(self.rect()), "", tokens(self._stage).plan, width=_RING, radius=RADIUS_BUTTON + _GAP)


def first_in(part: QWidget) -> QWidget | None:
    """Return what has the keys first in a part of the window: the part itself, or what Tab reaches first in it."""
    if part.focusPolicy() & Qt.FocusPolicy.TabFocus:
        return part
    each: QWidget | None = part.nextInFocusChain()
    while each is not None and each is not part:
        reached = each.focusPolicy() & Qt.FocusPolicy.TabFocus and each.isEnabled() and each.isVisible()
        if reached and part.isAncestorOf(each):
            return each
        each = each.nextInFocusChain()
    return None
