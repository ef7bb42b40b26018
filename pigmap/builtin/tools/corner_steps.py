"""One corner of what was drawn, chosen by keys: stepped with the arrows, or typed."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeyEvent

from pigmap.builtin.tools.reshape import Shape, handles, reshaped
from pigmap.builtin.tools.typed_line import TypedLine, starts_typing
from pigmap.builtin.tools.typed_shift import typed_shift
from pigmap.drawing.layer import Layer, Marks, Size
from pigmap.drawing.tokens import CASING, MAP_PLAN
from pigmap.errors import PigmapError
from pigmap.qt.following import sentence
from pigmap.qt.tool import Host
from pigmap.session.phone_corners import corner_shown, is_phone_pair

STEP_M, FINE_M = 1.0, 0.1
"""An arrow steps so far, with Shift so little [m of ground]. Own choice."""
SETTLE_MS = 700
"""Quick steps are one edit: it is made once the keys rest so long."""
Key = Qt.Key
_ARROWS = {Key.Key_Left: (-1, 0), Key.Key_Right: (1, 0), Key.Key_Up: (0, 1), Key.Key_Down: (0, -1)}


class CornerSteps:
    """Chooses a corner of a shape, and moves it until the keys rest.

    Parameters
    ----------
    moved
        Called with the shape while it is stepped.
    settled
        Called with the shape once the keys rest.
    """

    def __init__(self, moved: Callable[[Shape], None], settled: Callable[[Shape], None]) -> None:
        self._moved = moved
        self._settled = settled
        self._shape: Shape | None = None
        self._now: Shape | None = None
        self.chosen: int | None = None
        """Number of the corner among all corners of the shape; None while keys move the map."""

    def begin(self, host: Host) -> None:
        """Start on a map."""
        self._host = host
        stage = host.stage
        self._line = TypedLine(stage, host.widget, stage.say("How far: 3 east, or 2 at 90"), self._take)
        self._pause = QTimer(self._line, singleShot=True, interval=SETTLE_MS)
        self._pause.timeout.connect(self.settle)

    def end(self) -> None:
        """Hand on what was stepped, and leave the map."""
        self.settle()
        self.chosen = self._shape = None
        self._line.hide()
        self._line.deleteLater()

    def take(self, shape: Shape | None, *, same: bool) -> None:
        """Take in the shape that is picked; `same` tells whether it is that of the same thing as before."""
        self._shape = shape
        if not same or self.place is None:
            self.chosen = None

    @property
    def shape(self) -> Shape | None:
        """The shape as it is by now."""
        return self._now if self._now is not None else self._shape

    @property
    def place(self) -> tuple[float, float] | None:
        """Where the chosen corner is [grid m]."""
        if self.shape is None or self.chosen is None:
            return None
        found = handles(self.shape)
        corners = found.points[found.corner]
        if self.chosen >= len(corners):
            return None
        x, y = corners[self.chosen].tolist()
        return x, y

    def choose_at(self, x_m: float, y_m: float) -> None:
        """Choose the corner that was dragged to a place."""
        if self.shape is not None:
            found = handles(self.shape)
            corners = found.points[found.corner]
            self.chosen = int(np.hypot(corners[:, 0] - x_m, corners[:, 1] - y_m).argmin())

    def key(self, event: QKeyEvent) -> bool:
        """Choose with E and Q, step with the arrows, type with T or a figure; Enter sets it, Esc drops it."""
        key, fine = Key(event.key()), bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if self.shape is None or event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            return False
        if key in (Key.Key_E, Key.Key_Q):
            self._choose(1 if key == Key.Key_E else -1)
            return True
        if self.place is None:
            return False
        if key in _ARROWS:
            east, north = _ARROWS[key]
            step = (FINE_M if fine else STEP_M) / self._per_grid
            self._step(east * step, north * step)
        elif key in (Key.Key_Return, Key.Key_Enter):
            self.settle()
        elif key == Key.Key_Escape:
            self._drop()
        elif starts_typing(event):
            self._line.open(event.text() if event.text().isdigit() else "")
        else:
            return False
        return True

    def _choose(self, by: int) -> None:
        assert self.shape is not None
        count = int(handles(self.shape).corner.sum())
        now = (-1 if by > 0 else 0) if self.chosen is None else self.chosen
        self.chosen = (now + by) % count if count else None
        self._moved(self.shape)

    def _step(self, east_m: float, north_m: float) -> None:
        place = self.place
        if place is not None:
            self._put(place[0] + east_m, place[1] + north_m)

    def _put(self, x_m: float, y_m: float) -> None:
        if self.shape is None or self.chosen is None:
            return
        found = handles(self.shape)
        handle = found.at(int(np.flatnonzero(found.corner)[self.chosen]))
        self._now = reshaped(self.shape, handle, (x_m, y_m))
        self._pause.start()
        self._moved(self._now)

    def _take(self, words: str) -> bool:
        stage = self._host.stage
        try:
            if is_phone_pair(words):
                self._put(*corner_shown(words, stage.session.farm.projection))
            else:
                self._step(*typed_shift(words, ground_per_grid=self._per_grid, feet=stage.units == "us"))
        except PigmapError as error:
            stage.notice(sentence(error), "refused")
            return False
        self.settle()
        return True

    def settle(self) -> None:
        """Hand on what was stepped just now."""
        self._pause.stop()
        now, self._now = self._now, None
        if now is not None:
            self._settled(now)

    def _drop(self) -> None:
        """Put it back, and let keys move the map again."""
        self._pause.stop()
        self.chosen = self._now = None
        if self._shape is not None:
            self._moved(self._shape)

    @property
    def _per_grid(self) -> float:
        return self._host.stage.session.farm.projection.ground_per_grid

    def layers(self) -> tuple[Layer, ...]:
        """Return the ring round the chosen corner."""
        place = self.place
        if place is None:
            return ()
        return (Marks(np.array([place]), "ring", Size(24.0, 4.0), MAP_PLAN, CASING, Size(2.0, 0.4)),)
