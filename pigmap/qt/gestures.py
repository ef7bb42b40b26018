"""Gestures on the map: which belong to the tool, and which move the map itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QElapsedTimer, QPoint, QPointF, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QMouseEvent, QWheelEvent

from pigmap.errors import PluginError
from pigmap.qt import motion
from pigmap.qt.glide import Glide
from pigmap.qt.tool import Pointer, Tool

if TYPE_CHECKING:
    from pigmap.qt.ground_view import GroundView

PICK = "pick"
"""The tool of verbs that only bring a panel."""
CLICK_PX = 4
"""A press and a release no farther apart are a click [px]."""
NOTCH = 120.0
"""Units of a wheel event that make one notch (Qt 6)."""
ZOOM_PER_NOTCH = 1.25
ARROW_PX = 80
FRAME_MS = 16
FLING_PX_PER_MS = 0.3
"""Slower than this the map stops where it is let go."""
FLING_LEFT = 0.9
"""Share of its speed that a map that was flung keeps from frame to frame."""

_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


class Gestures:
    """Stands between the map's events and the tool that has the pointer."""

    def __init__(self, canvas: GroundView) -> None:
        self._map = canvas
        self._tools: dict[str, Tool] = {}
        self.tool: Tool | None = None
        self._pressed: QPointF | None = None
        self._taken = False
        self._panning = False
        self._space = False
        self._last = QPointF()
        self._rest = QPointF()
        self._clock = QElapsedTimer()
        self._speed = QPointF()
        self.glide = Glide(canvas)
        self._fling = QTimer(canvas, interval=FRAME_MS)
        self._fling.setTimerType(Qt.TimerType.PreciseTimer)
        self._fling.timeout.connect(self._fling_on)
        canvas.stage.verb_changed.connect(self.take_up)

    def take_up(self, verb: str) -> None:
        """Give the pointer to the tool of a verb; a verb without one picks."""
        self.end()
        registry = self._map.stage.session.registry
        if not any(part.name == verb for part in registry.parts("tools")):
            verb = PICK
        if verb not in self._tools and any(part.name == verb for part in registry.parts("tools")):
            try:
                made = registry.load("tools", verb)
            except PluginError:
                return
            self._tools[verb] = made() if isinstance(made, type) else made
        self.use(self._tools.get(verb))
        if verb != PICK:
            self._map.setFocus(Qt.FocusReason.OtherFocusReason)  # the keys of the verb are the map's

    def use(self, tool: Tool | None) -> None:
        """Give the pointer to a tool."""
        self.end()
        self.tool = tool
        self._map.setCursor(self._cursor())
        if tool is not None:
            tool.begin(self._map)

    def end(self) -> None:
        """Take the pointer from the tool."""
        self._fling.stop()
        if self.tool is not None:
            self.tool.end()
            self.tool = None

    def pointer(self, at: QPointF, modifiers: Qt.KeyboardModifier) -> Pointer:
        """Return where a spot of the widget is on the ground."""
        view = self._map.view
        x, y = view.to_ground(at.x(), at.y())
        return Pointer(x, y, at.x(), at.y(), view.metres_per_unit, modifiers)

    def press(self, event: QMouseEvent) -> None:
        """Begin a drag: the tool's, if it wants it."""
        self._fling.stop()
        self.glide.stop()
        self._pressed = self._last = event.position()
        self._clock.start()
        self._speed = QPointF()
        moves = event.button() == Qt.MouseButton.MiddleButton or self._space
        self._taken = False
        self._panning = moves
        if not moves and event.button() == Qt.MouseButton.LeftButton and self.tool is not None:
            self._taken = self.tool.press(self.pointer(event.position(), event.modifiers()))
        self._map.setCursor(self._cursor())

    def move(self, event: QMouseEvent) -> None:
        """Follow the pointer."""
        at = event.position()
        if self._pressed is None:
            if self.tool is not None:
                self.tool.hover(self.pointer(at, event.modifiers()))
            return
        if self._taken and self.tool is not None:
            self.tool.drag(self.pointer(at, event.modifiers()))
        elif self._panning or (at - self._pressed).manhattanLength() > CLICK_PX:
            if not self._panning:
                self._panning = True
                self._map.setCursor(self._cursor())
            self._pan(self._last - at)
            spent = max(self._clock.restart(), 1)
            self._speed = (self._last - at) * (0.6 / spent) + self._speed * 0.4
            self._last = at

    def release(self, event: QMouseEvent) -> None:
        """End a drag; a map that is let go while it moves glides on."""
        if self._pressed is None:
            return
        if self._panning:
            moving = abs(self._speed.x()) + abs(self._speed.y()) > FLING_PX_PER_MS and self._clock.elapsed() < 50
            if moving and motion.is_allowed():
                self._fling.start()
        elif event.button() == Qt.MouseButton.LeftButton and self.tool is not None:
            self.tool.release(self.pointer(event.position(), event.modifiers()))
        self._pressed, self._taken, self._panning = None, False, False
        self._map.setCursor(self._cursor())

    def double(self, event: QMouseEvent) -> None:
        """Hand a double click to the tool."""
        if event.button() == Qt.MouseButton.LeftButton and self.tool is not None and not self._space:
            self.tool.double(self.pointer(event.position(), event.modifiers()))

    def wheel(self, event: QWheelEvent) -> None:
        """Zoom at the pointer: by whole notches the map glides, a finger on a pad leads it itself."""
        notches = event.angleDelta().y() / NOTCH
        if notches:
            self._fling.stop()
            zoom = self.glide.zoom_by if abs(notches) >= 1 else self._map.zoom_by
            zoom(ZOOM_PER_NOTCH**notches, event.position())
        event.accept()

    def key(self, event: QKeyEvent) -> bool:
        """Take a key; return whether it was used."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = True
            self._map.setCursor(self._cursor())
            return True
        if self.tool is not None and self.tool.key(event):
            return True
        if event.modifiers() & ~(Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier):
            return False
        return self._move_map(Qt.Key(event.key()))

    def key_up(self, event: QKeyEvent) -> None:
        """Let go of the space bar."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = False
            self._map.setCursor(self._cursor())

    def _move_map(self, key: Qt.Key) -> bool:
        if key in _ARROWS:
            x, y = _ARROWS[key]
            self.glide.pan_by(round(x * ARROW_PX * self._density), round(y * ARROW_PX * self._density))
        elif key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.glide.zoom_by(ZOOM_PER_NOTCH)
        elif key == Qt.Key.Key_Minus:
            self.glide.zoom_by(1 / ZOOM_PER_NOTCH)
        elif key == Qt.Key.Key_Z:
            self.glide.show_whole()
        else:
            return False
        return True

    @property
    def _density(self) -> float:
        return self._map.devicePixelRatioF()

    def _pan(self, by: QPointF) -> None:
        """Move the map by whole device pixels; what is left over counts the next time."""
        exact = by * self._density + self._rest
        whole = QPoint(int(exact.x()), int(exact.y()))
        self._rest = exact - QPointF(whole)
        if not whole.isNull():
            self._map.pan_by(whole.x(), whole.y())

    def _fling_on(self) -> None:
        self._pan(self._speed * FRAME_MS)
        self._speed = self._speed * FLING_LEFT
        if abs(self._speed.x()) + abs(self._speed.y()) < FLING_PX_PER_MS / 6:
            self._fling.stop()

    def _cursor(self) -> Qt.CursorShape:
        if self._panning:
            return Qt.CursorShape.ClosedHandCursor
        if self._space or self.tool is None:
            return Qt.CursorShape.OpenHandCursor
        return self.tool.cursor
