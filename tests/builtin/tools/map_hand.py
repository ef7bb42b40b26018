"""A map of the small invented farm, and a hand that works on it with mouse and keys."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numpy as np
import shapely
from PySide6.QtCore import QCoreApplication, QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from pigmap.builtin.tools.typed_line import TypedLine
from pigmap.qt.canvas import MapView
from pigmap.qt.stage import Notice, Stage
from pigmap.records import Projection
from tests.qt.window_farm import PLANE, drop, made_stage

LEFT = Qt.MouseButton.LeftButton
NONE = Qt.MouseButton.NoButton
PLAIN = Qt.KeyboardModifier.NoModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


class Hand:
    """Works on a map at places of the ground."""

    def __init__(self, canvas: MapView) -> None:
        self.map = canvas
        self.stage: Stage = canvas.stage
        self.said: list[Notice] = []
        canvas.stage.noticed.connect(self._hear)

    def _hear(self, notice: Notice) -> None:
        self.said.append(notice)

    @property
    def words(self) -> str:
        """What was said last."""
        return self.stage.words(self.said[-1].text) if self.said else ""

    @property
    def tool(self) -> Any:
        """The tool that has the pointer."""
        return self.map.gestures.tool

    def spot(self, x: float, y: float) -> QPoint:
        """Return where a place of the ground is on the map."""
        px, py = self.map.view.to_device(np.array([[x, y]]))[0].tolist()
        return QPoint(round(px), round(py))

    def look(self, west: float, south: float, east: float, north: float) -> None:
        self.map.look_at((west, south, east, north))
        self.settle()

    def take_up(self, verb: str) -> None:
        self.stage.take_up(verb)
        self.settle()

    def settle(self) -> None:
        QApplication.processEvents()
        self.map.settle()
        self._see()

    def hover(self, x: float, y: float) -> None:
        self._send(QEvent.Type.MouseMove, self.spot(x, y), NONE, NONE)

    def click(self, x: float, y: float) -> None:
        self.drag((x, y), (x, y))

    def double(self, x: float, y: float) -> None:
        self.click(x, y)
        at = self.spot(x, y)
        self._send(QEvent.Type.MouseButtonDblClick, at, LEFT, LEFT)
        self._send(QEvent.Type.MouseButtonRelease, at, LEFT, NONE)

    def drag(self, begin: tuple[float, float], end: tuple[float, float], *, steps: int = 6) -> None:
        a, b = self.spot(*begin), self.spot(*end)
        self._send(QEvent.Type.MouseMove, a, NONE, NONE)
        self._send(QEvent.Type.MouseButtonPress, a, LEFT, LEFT)
        if a != b:
            for step in range(1, steps + 1):
                at = QPointF(a) + (QPointF(b) - QPointF(a)) * (step / steps)
                self._send(QEvent.Type.MouseMove, at.toPoint(), NONE, LEFT)
        self._send(QEvent.Type.MouseButtonRelease, b, LEFT, NONE)

    def key(self, key: Qt.Key, modifier: Qt.KeyboardModifier = PLAIN) -> None:
        QTest.keyClick(self.map, key, modifier)
        self._see()

    def type(self, words: str) -> None:
        """Open the line with T, type, and press Enter."""
        QTest.keyClick(self.map, Qt.Key.Key_T)
        QTest.keyClicks(self.line(), words)
        QTest.keyClick(self.line(), Qt.Key.Key_Return)
        self._see()

    def line(self) -> TypedLine:
        return self.map.findChildren(TypedLine)[-1]

    def _send(self, kind: QEvent.Type, at: QPoint, button: Qt.MouseButton, held: Qt.MouseButton) -> None:
        where = QPointF(at)
        event = QMouseEvent(kind, where, self.map.mapToGlobal(where), button, held, PLAIN)
        QCoreApplication.sendEvent(self.map, event)
        self._see()

    def _see(self) -> None:
        """Wait for the figures of the ghost, which keep apart from those before."""
        QApplication.processEvents()
        while getattr(self.tool, "figures_due", False):
            QApplication.processEvents()


@contextmanager
def made_hand(folder: Path, groups: int = 2, *, empty: bool = False, projection: Projection = PLANE) -> Iterator[Hand]:
    """Make a map of 800 by 500 pixels over the farm, shown, and a hand for it."""
    with made_stage(folder, groups, empty=empty, projection=projection) as stage:
        canvas = MapView(stage)
        canvas.resize(800, 500)
        canvas.show()
        hand = Hand(canvas)
        hand.settle()
        yield hand
        canvas.close_down()
        drop(canvas)


def ring(*corners: tuple[float, float]) -> shapely.Polygon:
    return shapely.Polygon(corners)
