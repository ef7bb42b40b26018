from __future__ import annotations

import numpy as np
import pytest
import shapely
from PySide6.QtCore import QRect
from PySide6.QtGui import QColor, QImage, QPainter, QRegion
from pytestqt.qtbot import QtBot

from pigmap.drawing.layer import Outlines
from pigmap.drawing.rings import rings_of
from pigmap.drawing.view import View
from pigmap.qt.laid_over import LaidOver

VIEW = View(100.0, 100.0, 1.0, 200.0, 200.0)
WHOLE = QRegion(QRect(0, 0, 200, 200))


def _square(x: float, y: float) -> Outlines:
    return Outlines(*rings_of([shapely.box(x, y, x + 20, y + 20)]), closed=True, fill="#0000FF")


@pytest.fixture
def over(qtbot: QtBot) -> LaidOver:
    return LaidOver()


def _blue(over: LaidOver, region: QRegion = WHOLE, view: View = VIEW) -> np.ndarray:
    """Draw on white and return which pixels are blue, (200, 200), rows from the north."""
    image = QImage(200, 200, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    painter = QPainter(image)
    over.draw(painter, region, view)
    painter.end()
    pixels = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(200, 200, 4)
    blue: np.ndarray = (pixels[..., :3] == (255, 0, 0)).all(axis=2)
    return blue


def test_layers_are_shown_held_and_carried_together(over: LaidOver) -> None:
    shown, held, carried = _square(20, 160), _square(80, 160), _square(140, 160)
    over.show([shown], VIEW)
    over.hold([held], VIEW, 1.0)
    over.carry([carried], (0.0, -100.0), VIEW, 1.0)
    blue = _blue(over)
    assert blue[30, 30]
    assert blue[30, 90]
    assert blue[130, 150]
    assert not blue[30, 150]
    assert over.layers == (held, shown, carried)


def test_all_changes_since_the_last_drawing_are_one_rectangle(over: LaidOver) -> None:
    over.hold([_square(20, 160)], VIEW, 1.0)
    over.carry([_square(150, 20)], (0.0, 0.0), VIEW, 1.0)
    assert over.changed.contains(QRect(20, 20, 150, 160))
    _blue(over)
    assert over.changed.isNull()
    gone = over.carry([], (0.0, 0.0), VIEW, 1.0)
    assert gone == over.changed
    assert gone.contains(QRect(150, 160, 20, 20))


def test_what_lies_off_the_painted_region_is_left_out(over: LaidOver) -> None:
    over.show([_square(20, 160)], VIEW)
    assert not _blue(over, QRegion(QRect(150, 150, 20, 20))).any()


def test_what_is_held_stays_on_its_ground_in_another_view(over: LaidOver) -> None:
    over.hold([_square(80, 160)], VIEW, 1.0)
    nearer = View(90.0, 170.0, 0.25, 200.0, 200.0)
    over.place(nearer)
    blue = _blue(over, view=nearer)
    assert blue[65:135, 65:135].all()
    assert not blue[:50].any()
