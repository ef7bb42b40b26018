from __future__ import annotations

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pigmap.qt.kept_picture import KeptPicture


class Square(QWidget):
    """Red or green, and counts how often it was painted."""

    def __init__(self) -> None:
        super().__init__()
        self.colour = Qt.GlobalColor.red
        self.painted = 0
        self._kept = KeptPicture()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        self._kept.show(self, (self.colour,), self._draw)

    def _draw(self, painter: QPainter) -> None:
        self.painted += 1
        painter.fillRect(QRect(0, 0, self.width(), self.height()), self.colour)


def _shown(square: Square) -> str:
    return square.grab().toImage().pixelColor(square.width() - 1, 5).name()


def test_a_picture_is_painted_once_for_each_state_and_size(qtbot: QtBot) -> None:
    square = Square()
    qtbot.addWidget(square)
    square.resize(20, 20)
    assert [_shown(square) for _ in range(3)] == ["#ff0000"] * 3
    assert square.painted == 1
    square.colour = Qt.GlobalColor.green
    assert _shown(square) == "#00ff00"
    square.resize(40, 20)
    assert _shown(square) == "#00ff00"
    assert square.painted == 3
