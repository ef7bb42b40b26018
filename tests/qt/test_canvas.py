from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import cast

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QImage, QRegion, QWheelEvent
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from pigmap.drawing.layer import Layer, Outlines, Size, Stroke, Tiles
from pigmap.imagery.pyramid import Bounds, Pyramid
from pigmap.plugins import Registry
from pigmap.qt.ground_view import GroundView as MapView
from pigmap.qt.photo import Photo
from pigmap.qt.stage import Stage
from pigmap.records import Farm, Projection
from pigmap.session import Session

PLANE = Projection(name="plane", authority="NONE", code=0, definition="")


class OnlyShown:
    """As much of a session as a map needs that shows no farm of its own."""

    def __init__(self) -> None:
        self.farm = Farm(document_uid="d", projection=PLANE)
        self.registry = Registry([])


class Colours:
    """An image of 1,024 by 1,024 pixels of 1 m: red in the north, green in the south."""

    def __init__(self) -> None:
        self.pyramid = Pyramid(0.0, 1024.0, 1.0, 1024, 1024)
        self.bounds: Bounds = (0.0, 0.0, 1024.0, 1024.0)
        self.bgra = False

    def tile(self, level: int, column: int, row: int) -> NDArray[np.uint8]:
        pixels = np.zeros((512, 512, 4), dtype=np.uint8)
        pixels[..., 3] = 255
        norths = 1024 - (row * 512 + np.arange(512)) * 2**level
        pixels[norths > 512, :, 0] = 255
        pixels[norths <= 512, :, 1] = 255
        return pixels


@pytest.fixture
def canvas(qtbot: QtBot) -> Iterator[MapView]:
    stage = Stage(cast("Session", OnlyShown()), date(2025, 10, 14))
    made = MapView(stage)
    made.resize(400, 300)
    made.look_at((412.0, 437.0, 612.0, 587.0))
    yield made
    made.close_down()
    made.deleteLater()


def seen(canvas: MapView) -> QImage:
    return canvas.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)


def colour(canvas: MapView, x: int, y: int) -> tuple[int, int, int]:
    shown = seen(canvas).pixelColor(x, y)
    return shown.red(), shown.green(), shown.blue()


def with_photo(canvas: MapView) -> None:
    canvas.show_photos({"photo": Photo(Colours)})
    canvas.show_layers([Tiles("photo")])


def square(x: float, y: float, side: float, name: str = "#0000FF") -> Outlines:
    ring = np.array([[x, y], [x + side, y], [x + side, y + side], [x, y + side]])
    return Outlines(ring, np.array([0, 4]), closed=True, fill=name, strokes=(Stroke(name, Size(1, 1)),))


def test_settling_waits_for_the_photo(canvas: MapView) -> None:
    with_photo(canvas)
    assert canvas.settle()
    view = canvas.view
    above, below = view.to_device(np.array([[512.0, 540.0], [512.0, 480.0]])).round().astype(int).tolist()
    assert colour(canvas, *above) == (255, 0, 0)
    assert colour(canvas, *below) == (0, 255, 0)


def test_moving_the_map_shows_the_same_ground_elsewhere(canvas: MapView) -> None:
    with_photo(canvas)
    canvas.show_layers([Tiles("photo"), square(500, 500, 20)])
    canvas.settle()
    before = seen(canvas)
    canvas.pan_by(37, -21)
    assert seen(canvas).copy(0, 21, 363, 279) == before.copy(37, 0, 363, 279)


def test_every_pixel_that_changed_is_told(canvas: MapView) -> None:
    with_photo(canvas)
    canvas.settle()
    before = seen(canvas)
    canvas.picture.take_changed()
    canvas.picture.show("signs", [square(440, 450, 20), square(560, 560, 9)])
    told = QRegion()
    more = True
    while more:
        more = canvas.picture.work(0.001)
        told += canvas.picture.take_changed()
    after = seen(canvas)
    other = [(x, y) for x in range(400) for y in range(300) if before.pixel(x, y) != after.pixel(x, y)]
    assert len(other) > 500
    on_map = canvas.picture.on_widget(told)
    assert all(on_map.contains(QPoint(x, y)) for x, y in other)
    assert canvas.picture.take_changed().isEmpty()


@pytest.mark.parametrize("steps", [1, 5, 40], ids=["within the margin", "at its edge", "far beyond it"])
def test_a_map_that_was_moved_far_looks_like_one_painted_there(canvas: MapView, steps: int) -> None:
    with_photo(canvas)
    canvas.show_layers([Tiles("photo"), square(500, 500, 90)])
    canvas.settle()
    for _ in range(steps):
        canvas.pan_by(61, 17)
        seen(canvas)
    canvas.settle()
    moved = seen(canvas)
    canvas.picture.begin()
    canvas.settle()
    assert seen(canvas) == moved


def test_a_map_that_is_moved_never_shows_bare_ground(canvas: MapView) -> None:
    overview = QImage(64, 64, QImage.Format.Format_ARGB32_Premultiplied)
    overview.fill(QColor(200, 100, 0))
    canvas.show_photos({"photo": Photo(Colours, lambda: overview, (0.0, 0.0, 1024.0, 1024.0))})
    canvas.show_layers([Tiles("photo")])
    paper = canvas.picture.paper
    for _ in range(10):
        canvas.pan_by(60, 20)
        frame = seen(canvas)
        assert all(frame.pixelColor(x, y) != paper for x in range(0, 400, 40) for y in range(0, 300, 30))
    assert canvas.picture.bare_frames == 0


def test_the_wheel_leaves_the_ground_under_the_pointer_where_it_is(canvas: MapView) -> None:
    canvas.settle()
    before = canvas.view.to_ground(120.0, 200.0)
    spot = QPointF(120, 200)
    event = QWheelEvent(
        spot,
        spot,
        QPoint(),
        QPoint(0, 240),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    scale = canvas.view.metres_per_unit
    canvas.wheelEvent(event)
    assert canvas.view.metres_per_unit == pytest.approx(scale / 1.25**2)
    assert canvas.view.to_ground(120.0, 200.0) == pytest.approx(before, abs=1e-6)


def test_while_zooming_the_old_picture_is_stretched(canvas: MapView) -> None:
    with_photo(canvas)
    canvas.settle()
    seen(canvas)
    canvas.zoom_by(2.0)
    view = canvas.view
    x, y = view.to_device(np.array([[512.0, 520.0]])).round().astype(int)[0].tolist()
    assert colour(canvas, x, y) == (255, 0, 0)


def test_dragging_moves_the_map_with_the_pointer(canvas: MapView, qtbot: QtBot) -> None:
    canvas.show()
    before = canvas.view.to_ground(100.0, 100.0)
    QTest.mousePress(canvas, Qt.MouseButton.MiddleButton, pos=QPoint(100, 100))
    QTest.mouseMove(canvas, QPoint(160, 130))
    qtbot.wait(60)
    QTest.mouseRelease(canvas, Qt.MouseButton.MiddleButton, pos=QPoint(160, 130))
    assert canvas.view.to_ground(160.0, 130.0) == pytest.approx(before, abs=1e-6)


def test_keys_move_and_zoom_the_map(canvas: MapView, qtbot: QtBot) -> None:
    canvas.whole = (0.0, 0.0, 1024.0, 1024.0)
    start = canvas.view
    QTest.keyClick(canvas, Qt.Key.Key_Right)
    assert canvas.view.centre_x_m == pytest.approx(start.centre_x_m + 80 * start.metres_per_unit)
    QTest.keyClick(canvas, Qt.Key.Key_Plus)
    assert canvas.view.metres_per_unit == pytest.approx(start.metres_per_unit / 1.25)
    QTest.keyClick(canvas, Qt.Key.Key_Z)
    west, south, east, north = canvas.view.bounds
    assert west < 0 < 1024 < east
    assert south < 0 < 1024 < north


def test_a_preview_repaints_only_what_it_covers(canvas: MapView, qtbot: QtBot) -> None:
    canvas.show()
    qtbot.waitExposed(canvas)
    canvas.settle()
    qtbot.wait(50)
    canvas.preview([square(500, 500, 10)])
    rect = canvas.preview_changed
    assert rect.width() < 80
    assert rect.height() < 80
    x, y = canvas.view.to_device(np.array([[505.0, 505.0]])).round().astype(int)[0].tolist()
    assert colour(canvas, x, y) == (0, 0, 255)
    canvas.preview([])
    assert colour(canvas, x, y) != (0, 0, 255)


def test_resizing_keeps_the_scale_and_the_middle(canvas: MapView) -> None:
    canvas.settle()
    canvas.pan_by(10, 10)
    before = canvas.view
    canvas.resize(500, 420)
    canvas.settle()
    after = canvas.view
    assert (after.centre_x_m, after.centre_y_m) == pytest.approx((before.centre_x_m, before.centre_y_m), abs=1.0)
    assert after.metres_per_unit == pytest.approx(before.metres_per_unit)


def test_a_sheet_that_did_not_change_is_not_painted_again(canvas: MapView) -> None:
    layers: list[Layer] = [square(500, 500, 20)]
    canvas.show_layers(layers)
    canvas.settle()
    canvas.picture.complete(margin=True)
    canvas.show_layers(list(layers))
    assert canvas.picture.work(0.0) is False


def test_closing_twice_is_closing_once(canvas: MapView) -> None:
    with_photo(canvas)
    canvas.settle()
    canvas.close_down()
    canvas.close_down()


def test_words_lie_on_dark_ground_only_while_no_image_is_shown(canvas: MapView) -> None:
    assert not canvas.picture.is_dark
    canvas.stage.show_theme("dark")
    assert canvas.picture.is_dark
    canvas.show_layers([Tiles("image")])
    assert canvas.picture.is_dark  # its file is missing
    canvas.show_photos({"image": Photo(Colours)})
    assert not canvas.picture.is_dark
    canvas.show_layers([])
    assert canvas.picture.is_dark
