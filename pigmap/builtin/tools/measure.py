"""Measure lengths and areas on the ground, clicked or typed."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from pigmap.builtin.tools.corners import Corners
from pigmap.drawing.ghost import walked
from pigmap.drawing.layer import Label, Labels, Layer
from pigmap.geometry.measure import measure
from pigmap.qt.tool import Host, IdleTool, Pointer
from pigmap.text import Quantity, Text


class Measure(IdleTool):
    """Corners are clicked one after the other; the length so far, and the area inside, stand beside the last."""

    name = "measure"
    cursor = Qt.CursorShape.CrossCursor

    def __init__(self) -> None:
        self._corners = Corners("Length and direction: 50 at 90")

    def begin(self, host: Host) -> None:
        """Start; what was measured last shows again."""
        super().begin(host)
        self._corners.begin(host, self._show)
        self._show()

    def end(self) -> None:
        """Put the line away."""
        self._corners.end()
        super().end()

    def hover(self, pointer: Pointer) -> None:
        """Measure up to the pointer."""
        self._corners.follow(pointer)
        self._show()

    def release(self, pointer: Pointer) -> None:
        """Set a corner; the first after a finished line begins a new one."""
        self._corners.add(pointer.x_m, pointer.y_m)
        self._show()

    def double(self, pointer: Pointer) -> None:
        """Finish the line."""
        self._corners.finish()
        self._show()

    def key(self, event: QKeyEvent) -> bool:
        """Finish with Enter, take back with Backspace, drop with Esc, type with a figure."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._corners.finish()
            self._show()
            return True
        return self._corners.key(event)

    def _show(self) -> None:
        if self.running:
            self.host.preview(self._layers())

    def _layers(self) -> tuple[Layer, ...]:
        corners = self._corners.points
        if not corners:
            return ()
        line = [*corners, self._corners.pointer] if self._corners.pointer is not None else corners
        drawn = walked(np.array(corners), self._corners.pointer)
        if len(line) < 2:
            return drawn
        return (*drawn, Labels(self._labels(line)))

    def _labels(self, line: list[tuple[float, float]]) -> tuple[Label, ...]:
        stage = self.host.stage
        found = measure(line, stage.session.farm.projection.ground_per_grid)
        legs = [
            Label((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, _length(length, stage.words), look="length")
            for a, b, length in zip(line[:-1], line[1:], found.legs_m, strict=True)
            if len(line) > 2
        ]
        area = stage.words(Text("{area} inside", {"area": Quantity(found.area_m2, "m²")})) if len(line) > 2 else ""
        total = Label(
            *line[-1], _length(found.length_m, stage.words), second=area, look="plate", priority=9, side="below"
        )
        return (*legs, total)


def _length(metres: float, words: object) -> str:
    assert callable(words)
    return str(words(Text("{length}", {"length": Quantity(metres, "m", 1 if metres < 100 else None)})))


tool = Measure
