from __future__ import annotations

from time import perf_counter

from PySide6.QtCore import QPoint, QRect
from PySide6.QtGui import QColor, QImage, QPainter, QRegion
from pytestqt.qtbot import QtBot

from pigmap.qt.owed_sheet import BLOCK_PX, PaintGround
from pigmap.qt.pixel_frame import PixelFrame
from pigmap.qt.scene_buffer import SceneBuffer

FRAME = PixelFrame(0.0, 0.0, 1.0)
VIEW = QRect(0, 0, 640, 480)
PAPER = QColor("#F1F3EF")


def _stripes(painter: QPainter, frame: PixelFrame, rect: QRect) -> None:
    """Paint columns of ten pixels, every other one blue."""
    for x in range(rect.left() // 20 * 20, rect.right() + 1, 20):
        painter.fillRect(QRect(x, rect.top(), 10, rect.height()), QColor("#0000FF"))


def _buffer() -> SceneBuffer:
    made = SceneBuffer(FRAME, VIEW, PAPER)
    made.painters({"photo": None, "cells": None, "signs": _stripes})
    return made


def _picture(buffer: SceneBuffer, view: QRect) -> QImage:
    image = QImage(view.size(), QImage.Format.Format_RGB32)
    painter = QPainter(image)
    buffer.blit(painter, view)
    painter.end()
    return image


def test_what_is_shown_after_a_move_lies_where_the_ground_lies(qtbot: QtBot) -> None:
    buffer = _buffer()
    for x in (0, 7, 55, 333, -211):
        view = VIEW.translated(x, 13)
        buffer.move_to(view)
        buffer.complete(view)
        shown = _picture(buffer, view)
        row = [shown.pixelColor(column, 100).name() for column in range(60)]
        assert row == ["#0000ff" if (x + column) % 20 < 10 else PAPER.name() for column in range(60)]


def test_a_fast_move_keeps_more_of_the_ground_ahead_than_behind(qtbot: QtBot) -> None:
    buffer = _buffer()
    for step in range(1, 20):
        buffer.move_to(VIEW.translated(40 * step, 0))
    assert buffer.kept.right() - buffer.view.right() >= 2 * BLOCK_PX
    assert buffer.view.left() - buffer.kept.left() >= BLOCK_PX


def test_slow_moves_to_and_fro_keep_the_same_ground(qtbot: QtBot) -> None:
    buffer = _buffer()
    kept = QRect(buffer.kept)
    for step in (3, -3, 5, -5, 4, -4):
        buffer.move_to(buffer.view.translated(QPoint(step, 0)))
    assert buffer.kept == kept


def test_what_lies_next_to_the_view_is_painted_before_what_lies_farther(qtbot: QtBot) -> None:
    buffer = _buffer()
    buffer.complete(buffer.view)
    near = buffer.view.adjusted(-BLOCK_PX, -BLOCK_PX, BLOCK_PX, BLOCK_PX)
    while buffer.owes(near):
        buffer.work(perf_counter())
    assert buffer.owes()
    while buffer.owes():
        buffer.work(perf_counter())
    assert not buffer.is_blank(buffer.kept)


def _square(colour: str) -> PaintGround:
    def paint(painter: QPainter, frame: PixelFrame, rect: QRect) -> None:
        painter.fillRect(QRect(100, 100, 200, 200), QColor(colour))

    return paint


def test_a_sheet_shown_straight_lies_under_those_above_it_and_is_painted_later(qtbot: QtBot) -> None:
    buffer = _buffer()
    buffer.painters({"photo": None, "cells": _square("#FF0000"), "signs": _stripes})
    buffer.complete(VIEW)
    buffer.painters({"photo": None, "cells": _square("#00FF00"), "signs": _stripes})
    buffer.spoil("cells", QRect(100, 100, 200, 200))
    buffer.show_straight("cells", QRegion(VIEW))
    straight = _picture(buffer, VIEW)
    assert [straight.pixelColor(x, 150).name() for x in (105, 115, 305)] == ["#0000ff", "#00ff00", "#0000ff"]
    assert straight.pixelColor(315, 150) == PAPER
    assert buffer.owes(VIEW)
    buffer.complete(VIEW)
    assert _picture(buffer, VIEW) == straight


def test_nothing_is_shown_straight_where_there_is_no_picture_yet(qtbot: QtBot) -> None:
    buffer = _buffer()
    buffer.show_straight("cells", QRegion(VIEW))
    assert buffer.is_blank(VIEW)
