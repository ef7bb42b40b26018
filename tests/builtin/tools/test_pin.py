from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path
from typing import cast

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.tools.pin import PinTool
from pigmap.imagery.pinned import pins_of
from pigmap.qt.pinning import pinning_of
from tests.builtin.tools.map_hand import SHIFT, Hand, made_hand
from tests.imagery.camera_photo import photo


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path) as made:
        made.look(-40, -60, 440, 140)
        yield made
        pinning_of(made.stage).close()


def scan(folder: Path, name: str = "scan.png") -> Path:
    """Return a picture of 400 by 200 pixels whose red tells the column and whose green tells the row."""
    picture = np.full((200, 400, 3), 200, dtype=np.uint8)
    picture[..., 0] = np.arange(400)[None, :] % 250
    picture[..., 1] = np.arange(200)[:, None]
    kept = np.ascontiguousarray(picture)
    QImage(kept.data, 400, 200, 1200, QImage.Format.Format_RGB888).save(str(folder / name))
    return folder / name


def tool(hand: Hand) -> PinTool:
    return cast("PinTool", hand.tool)


def opened(hand: Hand, path: Path) -> PinTool:
    hand.take_up("pin")
    pinning = pinning_of(hand.stage)
    pinning.open(path)
    wait(hand, lambda: not pinning.reading)
    return tool(hand)


def wait(hand: Hand, done: object) -> None:
    assert callable(done)
    until = time.monotonic() + 10
    while not done() and time.monotonic() < until:
        QApplication.processEvents()
    assert done()


def shown(hand: Hand, column: float, row: float) -> tuple[float, float]:
    """Return where a point of the picture is shown [grid m]."""
    east, north = tool(hand).over.fit().to_ground(np.array([[column, row]]))[0].tolist()
    return east, north


def pin(hand: Hand, spot: tuple[float, float], ground: tuple[float, float]) -> None:
    hand.click(*shown(hand, *spot))
    hand.click(*ground)


def test_three_points_clicked_and_put_place_the_picture_as_one_edit(hand: Hand, tmp_path: Path) -> None:
    opened(hand, scan(tmp_path))
    for spot, ground in (((100, 60), (50, 80)), ((320, 60), (270, 80)), ((320, 150), (270, -10))):
        pin(hand, spot, ground)
    assert tool(hand).plate.said.text() == "Three pins always fit. A fourth would show how well."
    hand.key(Qt.Key.Key_Return)
    (image,) = hand.stage.session.farm.images.values()
    assert (image.name, image.link) == ("scan", "scan.png")
    for kept, place in zip(pins_of(image.pins), ((50, 80), (270, 80), (270, -10)), strict=True):
        assert (kept.east_m, kept.north_m) == pytest.approx(place, abs=1)
    assert hand.words == "scan pinned at 3 points."
    hand.stage.session.undo().result()
    assert not hand.stage.session.farm.images


def test_what_is_pinned_is_drawn_on_the_map_where_it_was_put(hand: Hand, tmp_path: Path) -> None:
    opened(hand, scan(tmp_path))
    for number, words in enumerate(("0 0 at E 0 N 100", "400 0 at E 400 N 100", "0 200 at E 0 N -100")):
        assert tool(hand).type_pin(number, words)
    hand.key(Qt.Key.Key_Return)
    hand.settle()
    picture = hand.map.grab().toImage()
    ratio = picture.devicePixelRatio()
    at = hand.spot(330, -50)
    colour = picture.pixelColor(round(at.x() * ratio), round(at.y() * ratio))
    assert (colour.red(), colour.green()) == pytest.approx((330 % 250, 150), abs=6)


def test_a_drag_takes_a_point_and_puts_it(hand: Hand, tmp_path: Path) -> None:
    opened(hand, scan(tmp_path))
    hand.drag(shown(hand, 100, 60), (60, 70))
    (put,) = pinning_of(hand.stage).pins
    assert put[:2] == pytest.approx((100, 60), abs=2)
    assert put[2:] == pytest.approx((60, 70), abs=1)


def test_pins_are_dragged_on_both_sides(hand: Hand, tmp_path: Path) -> None:
    opened(hand, scan(tmp_path))
    for number, words in enumerate(("0 0 at E 0 N 100", "400 0 at E 400 N 100", "0 200 at E 0 N -40")):
        tool(hand).type_pin(number, words)
    hand.drag((400, 100), (380, 90))
    assert pinning_of(hand.stage).pins[1][2:] == pytest.approx((380, 90), abs=1)
    assert pinning_of(hand.stage).pins[1][:2] == (400, 0)
    where = shown(hand, 100, 100)
    begun = shown(hand, 0, 200)
    at = hand.map.gestures.pointer(hand.spot(*begun).toPointF(), SHIFT)
    assert tool(hand).press(at)
    tool(hand).drag(hand.map.gestures.pointer(hand.spot(*where).toPointF(), SHIFT))
    tool(hand).release(hand.map.gestures.pointer(hand.spot(*where).toPointF(), SHIFT))
    assert pinning_of(hand.stage).pins[2][:2] == pytest.approx((100, 100), abs=3)
    assert pinning_of(hand.stage).pins[2][2:] == (0, -40)


def test_a_fourth_pin_tells_how_well_it_fits_and_each_how_far_it_is_off(hand: Hand, tmp_path: Path) -> None:
    opened(hand, scan(tmp_path))
    told = ("0 0 at E 0 N 100", "400 0 at E 400 N 100", "0 200 at E 0 N -100", "400 200 at E 400 N -100")
    for number, words in enumerate(told):
        tool(hand).type_pin(number, words)
    tool(hand).type_pin(4, "200 100 at E 230 N 0")
    plate = tool(hand).plate
    assert plate.said.text() == "Fits to about 12 m; pin 5 is 24 m off."
    assert [line.off.text() for line in plate.lines[:5]] == ["6 m off"] * 4 + ["24 m off"]


def test_a_place_is_typed_for_a_point_that_waits(hand: Hand, tmp_path: Path) -> None:
    opened(hand, scan(tmp_path))
    hand.click(*shown(hand, 100, 60))
    hand.type("E 12 N 34")
    (put,) = pinning_of(hand.stage).pins
    assert put[2:] == (12, 34)


def test_all_of_it_goes_by_keys(hand: Hand, tmp_path: Path) -> None:
    opened(hand, scan(tmp_path))
    for words in ("0 0 at E 0 N 100", "400 0 at E 400 N 100", "0 200 at E 0 N -100"):
        QTest.keyClick(hand.map, Qt.Key.Key_T)
        line = tool(hand).plate.lines[-1].line
        QTest.keyClicks(line, words)
        QTest.keyClick(line, Qt.Key.Key_Return)
    assert len(pinning_of(hand.stage).pins) == 3
    hand.key(Qt.Key.Key_Backspace)
    assert len(pinning_of(hand.stage).pins) == 2


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (
            "120 340",
            "120 340 is not a point of the picture and its place. "
            "Type 120 340 at 47.03, -99.18: 120 pixels from the left, 340 from the top, then the place.",
        ),
        (
            "500 10 at E 1 N 2",
            "The point 500 10 is not on the picture. "
            "It is 400 pixels wide and 200 high: count from its upper left corner.",
        ),
    ],
)
def test_what_does_not_read_as_a_pin_is_told_in_words(hand: Hand, tmp_path: Path, typed: str, said: str) -> None:
    opened(hand, scan(tmp_path))
    assert not tool(hand).type_pin(0, typed)
    assert hand.words == said
    assert not pinning_of(hand.stage).pins


def test_too_few_pins_are_not_kept_and_none_is_lost(hand: Hand, tmp_path: Path) -> None:
    opened(hand, scan(tmp_path))
    tool(hand).type_pin(0, "0 0 at E 0 N 100")
    hand.key(Qt.Key.Key_Return)
    assert hand.words == (
        "The picture has 1 of the 3 pins that it takes. Click another point of the picture, then its place on the map."
    )
    hand.take_up("pick")
    hand.take_up("pin")
    assert len(pinning_of(hand.stage).pins) == 1
    assert tool(hand).plate.file.text() == "scan.png"
    assert not hand.stage.session.farm.images


def test_a_picture_that_was_pinned_is_pinned_anew_as_one_edit(hand: Hand, tmp_path: Path) -> None:
    opened(hand, scan(tmp_path))
    for number, words in enumerate(("0 0 at E 0 N 100", "400 0 at E 400 N 100", "0 200 at E 0 N -100")):
        tool(hand).type_pin(number, words)
    hand.key(Qt.Key.Key_Return)
    (before,) = hand.stage.session.farm.images.values()
    hand.take_up("pin")
    (again,) = tool(hand).plate.again
    assert again.text() == "Move the pins of scan"
    again.click()
    pinning = pinning_of(hand.stage)
    wait(hand, lambda: not pinning.reading)
    tool(hand).type_pin(1, "400 0 at E 380 N 110")
    hand.key(Qt.Key.Key_Return)
    (after,) = hand.stage.session.farm.images.values()
    assert after.uid == before.uid
    assert pins_of(after.pins)[1][2:] == (380, 110)
    hand.stage.session.undo().result()
    assert hand.stage.session.farm.images[before.uid].pins == before.pins


def test_an_empty_file_is_refused_on_the_plate(hand: Hand, tmp_path: Path) -> None:
    (tmp_path / "scan.jpg").write_bytes(b"")
    opened(hand, tmp_path / "scan.jpg")
    assert tool(hand).plate.said.text() == "scan.jpg is empty (0 bytes). Fetch or copy it again; it was cut off."


def test_esc_lets_the_point_go_before_it_ends_anything(hand: Hand, tmp_path: Path) -> None:
    opened(hand, scan(tmp_path))
    hand.click(*shown(hand, 100, 60))
    assert pinning_of(hand.stage).spot is not None
    hand.key(Qt.Key.Key_Escape)
    assert pinning_of(hand.stage).spot is None
    assert hand.stage.verb == "pin"


def test_a_photo_of_a_camera_is_asked_about_and_goes_on_with_enter(hand: Hand, tmp_path: Path) -> None:
    made = opened(hand, photo(tmp_path / "field.jpg"))
    pinning = pinning_of(hand.stage)
    plate = made.plate
    assert plate.asked.text().startswith("field.jpg looks like a photo taken standing, not like a map or a scan")
    assert "A photo of a paper map can" in plate.asked.text()
    assert plate.choose.text() == "Choose another picture"
    hand.click(100, 50)
    assert pinning.path is None
    assert pinning.spot is None
    hand.key(Qt.Key.Key_Return)
    assert pinning.path == tmp_path / "field.jpg"
    assert plate.asked.isHidden()
    assert plate.go_on.isHidden()
    pin(hand, (100, 60), (50, 80))
    assert len(pinning.pins) == 1


def test_another_picture_takes_the_place_of_the_one_that_was_asked_about(hand: Hand, tmp_path: Path) -> None:
    made = opened(hand, photo(tmp_path / "field.jpg"))
    made.choose_file = lambda *_: str(scan(tmp_path))
    made.plate.choose.click()
    pinning = pinning_of(hand.stage)
    wait(hand, lambda: not pinning.reading)
    assert pinning.path == tmp_path / "scan.png"
    assert made.plate.asked.isHidden()
    hand.key(Qt.Key.Key_Return)
    assert pinning.path == tmp_path / "scan.png"


def test_a_photo_that_was_pinned_before_is_not_asked_about_again(hand: Hand, tmp_path: Path) -> None:
    opened(hand, photo(tmp_path / "map.jpg")).plate.go_on.click()
    for number, words in enumerate(("0 0 at E 0 N 100", "400 0 at E 400 N 100", "0 200 at E 0 N -100")):
        assert tool(hand).type_pin(number, words)
    hand.key(Qt.Key.Key_Return)
    hand.take_up("pin")
    tool(hand).plate.again[0].click()
    pinning = pinning_of(hand.stage)
    wait(hand, lambda: not pinning.reading)
    assert pinning.path == tmp_path / "map.jpg"
