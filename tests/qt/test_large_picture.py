from __future__ import annotations

import gc

from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QImage, QPainter
from pytestqt.qtbot import QtBot

from pigmap.qt.large_picture import LargePicture


def test_what_is_painted_on_a_large_picture_stays_on_it(qtbot: QtBot) -> None:
    pictures = [LargePicture(QSize(640, 400), QImage.Format.Format_ARGB32_Premultiplied) for _ in range(3)]
    for number, each in enumerate(pictures):
        with QPainter(each.image) as painter:
            painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_Source)
            painter.fillRect(0, 0, 640, 400, QColor(number, 7, 9))
    gc.collect()
    corners = [(0, 0), (639, 0), (0, 399), (639, 399)]
    for number, each in enumerate(pictures):
        assert {each.image.pixelColor(*spot).getRgb() for spot in corners} == {(number, 7, 9, 255)}
