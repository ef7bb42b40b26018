from __future__ import annotations

import json
import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.form_parts import Words
from pigmap.builtin.panels.start import StartPlate
from pigmap.geometry.typed_place import typed_place
from pigmap.qt import app
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import follow
from pigmap.qt.parcel_picking import picking_of
from pigmap.qt.pinning import pinning_of
from pigmap.qt.starting import stage_for
from pigmap.qt.theme import tokens
from pigmap.qt.window import Window
from pigmap.session import Session
from pigmap.session.first_farm import sample_folder
from pigmap.session.new_farm import Made, Wanted, has_place, make_farm, place_of
from pigmap.session.personal import load_personal
from tests.imagery.web_server import serving
from tests.qt.window_farm import PARTS, TODAY, drop, made_window, make_session
from tests.session.test_images import written


def _sample(folder: Path) -> Path:
    with make_session(folder) as session:
        path = session.path
    sample_folder().mkdir(parents=True)
    return Path(shutil.copy(path, sample_folder() / "sample.gpkg"))


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with Session.open(_sample(tmp_path), registry=PARTS) as session:
        stage = stage_for(session, TODAY)
        stop = follow(stage)
        made = Window(stage)
        made.resize(1280, 800)
        made.show()
        qtbot.waitUntil(lambda: made.part("start") is not None)
        yield made
        stop()
        made.close_down()
        drop(made)


def _plate(window: Window) -> StartPlate:
    plate = window.panel("start")
    assert isinstance(plate, StartPlate)
    return plate


def _button(window: Window, name: str) -> WordButton:
    found = window.findChild(WordButton, name)
    assert found is not None
    return found


def _open_form(window: Window, folder: Path) -> StartPlate:
    plate = _plate(window)
    window.stage.start_asked.emit(None)
    plate.form.folder = folder
    return plate


def test_the_sample_farm_says_what_it_is(window: Window) -> None:
    plate = _plate(window)
    assert plate.isVisible()
    words = [each.accessibleName() for each in (_button(window, "start"), _button(window, "keep"))]
    assert words == ["Start my farm", "Keep looking"]


def test_help_lies_beside_what_starts_a_farm(window: Window) -> None:
    plate = _plate(window)
    window.stage.plate_asked.emit("manual")
    window.resize(window.width() + 20, window.height() + 10)
    QApplication.processEvents()
    manual = window.panel("manual")
    assert manual is not None
    assert plate.isVisible()
    assert plate.mapTo(window, plate.rect().topRight()).x() < manual.x()


def test_keep_looking_closes_the_plate_for_good_and_the_foot_brings_the_form(qtbot: QtBot, window: Window) -> None:
    plate = _plate(window)
    QTest.mouseClick(_button(window, "keep"), Qt.MouseButton.LeftButton)
    assert not plate.isVisible()
    assert load_personal().sample_plate_closed
    foot = window.panel("start-foot")
    assert foot is not None
    button = foot.findChild(WordButton)
    assert foot.isVisible()
    assert button is not None
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    assert plate.isVisible()
    assert plate.form.isVisible()


@pytest.mark.parametrize("size", [(1280, 800), (900, 800), (1600, 1000)])
def test_the_way_back_lies_clear_of_the_column_at_every_size(window: Window, size: tuple[int, int]) -> None:
    window.resize(*size)
    foot, column = window.panel("start-foot"), window.part("column")
    assert foot is not None
    assert column is not None
    assert foot.isVisible()
    assert window.rect().contains(foot.geometry())
    assert not foot.geometry().intersects(column.geometry())


def test_other_farms_have_neither_plate_nor_foot(qtbot: QtBot, tmp_path: Path) -> None:
    with made_window(tmp_path) as window:
        qtbot.waitUntil(lambda: window.part("start") is not None)
        foot = window.panel("start-foot")
        assert foot is not None
        assert not foot.isVisible()
        assert not _plate(window).isVisible()


def test_by_keys_alone_a_farm_is_made(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    plate = _plate(window)
    start = _button(window, "start")
    start.setFocus()
    QTest.keyClick(start, Qt.Key.Key_Return)
    form = plate.form
    form.folder = tmp_path
    assert QApplication.focusWidget() is form.name or form.name.hasFocus()
    QTest.keyClicks(form.name, "Ridge Farm")
    QTest.keyClick(form.place.buttons["typed"], Qt.Key.Key_Space)
    QTest.keyClicks(form.place.line, "50.0 N 9.0 E")
    assert form.place.read_back.text() == "50.00000° north, 9.00000° east"
    assert not form.place.turn.isVisible()
    with qtbot.waitSignal(window.stage.farm_asked) as asked:
        QTest.keyClick(form.place.line, Qt.Key.Key_Return)
    (made,) = asked.args
    assert isinstance(made, Made)
    with Session.open(made.path, registry=PARTS) as session:
        assert session.farm.name == "Ridge Farm"
        assert has_place(session.farm.projection)
    assert made.path.parent == tmp_path


def _press(qtbot: QtBot, key: Qt.Key) -> QWidget:
    """Press a key where the focus is; return where it is then."""
    at = QApplication.focusWidget()
    assert at is not None
    QTest.keyClick(at, key)
    QApplication.processEvents()
    now = QApplication.focusWidget()
    assert now is not None
    return now


def test_tab_and_arrows_alone_choose_where_the_farm_is_and_type_it(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    window.activateWindow()
    form, day = _open_form(window, tmp_path).form, window.stage.day
    qtbot.waitUntil(form.name.hasFocus)
    QTest.keyClicks(form.name, "Ridge Farm")
    assert _press(qtbot, Qt.Key.Key_Tab) is form.place.buttons["later"]
    assert _press(qtbot, Qt.Key.Key_Right) is form.place.buttons["typed"]
    assert form.place.way == "typed"
    assert _press(qtbot, Qt.Key.Key_Right) is form.place.buttons["file"]
    assert _press(qtbot, Qt.Key.Key_Right) is form.place.buttons["later"]
    assert _press(qtbot, Qt.Key.Key_Left) is form.place.buttons["file"]
    assert _press(qtbot, Qt.Key.Key_Up) is form.place.buttons["typed"]
    assert window.stage.day == day
    assert _press(qtbot, Qt.Key.Key_Tab) is form.place.line
    QTest.keyClicks(form.place.line, "50.0 N 9.0 E")
    assert _press(qtbot, Qt.Key.Key_Backtab) is form.place.buttons["typed"]
    assert _press(qtbot, Qt.Key.Key_Return) is form.place.line
    with qtbot.waitSignal(window.stage.farm_asked) as asked:
        QTest.keyClick(form.place.line, Qt.Key.Key_Return)
    with Session.open(asked.args[0].path, registry=PARTS) as session:
        assert has_place(session.farm.projection)


def test_esc_puts_the_form_away_and_keeps_what_was_typed(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    plate = _open_form(window, tmp_path)
    QTest.keyClicks(plate.form.name, "Ridge")
    QTest.keyClick(plate.form.name, Qt.Key.Key_Escape)
    assert not plate.form.isVisible()
    window.stage.start_asked.emit(None)
    assert plate.form.name.text() == "Ridge"


def test_the_key_makes_room_for_the_form_and_comes_back(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    window.resize(1600, 1000)
    key, form = window.part("key"), _open_form(window, tmp_path).form
    assert key is not None
    form.place.buttons["file"].click()
    qtbot.waitUntil(lambda: not key.isVisible())
    QTest.keyClick(form.name, Qt.Key.Key_Escape)
    qtbot.waitUntil(key.isVisible)


def test_where_the_map_is_too_low_the_form_scrolls_and_its_button_stays_in_sight(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    window.resize(1000, 560)
    form = _open_form(window, tmp_path).form
    form.place.buttons["file"].click()
    QApplication.processEvents()
    plate = _plate(window)
    assert window.map.rect().contains(plate.geometry())
    shown = plate.rect()
    corner = form.go.mapTo(plate, form.go.rect().bottomRight())
    assert shown.contains(corner)
    assert form.go.visibleRegion().boundingRect() == form.go.rect()


@pytest.mark.parametrize(
    ("place", "words"),
    [
        ("97.03, -199.2", "The latitude 97.03 is over 90, which is the pole. Look whether a digit"),
        ("47° 71' N 9° E", "47° 71' N has 71 minutes; it goes to 59"),
        ("", "No place is typed yet. Type it as the phone shows it, such as 47.03, -99.18, or say with Later that it"),
    ],
)
def test_a_place_typed_wrong_is_told_and_nothing_is_lost(
    qtbot: QtBot, window: Window, tmp_path: Path, place: str, words: str
) -> None:
    form = _open_form(window, tmp_path).form
    form.name.setText("Ridge Farm")
    form.place.buttons["typed"].click()
    form.place.line.setText(place)
    QTest.mouseClick(form.go, Qt.MouseButton.LeftButton)
    told = [each for each in form.findChildren(Words) if each.isVisible() and each.text().startswith(words)]
    assert len(told) == 1
    assert tokens(window.stage).no in told[0].styleSheet()
    assert (form.name.text(), form.place.line.text()) == ("Ridge Farm", place)
    assert not list(tmp_path.glob("Ridge*"))


def test_nothing_moves_under_the_pointer_while_a_place_is_typed(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    form = _open_form(window, tmp_path).form
    form.name.setText("Ridge Farm")
    form.place.buttons["typed"].click()
    seen = []
    for typed in ("", "5", "Ipswich", "52.05, 1.2", "52.05 north, 1.2 east", "97.03, 199.2"):
        form.place.line.setText(typed)
        qtbot.wait(30)
        seen.append(form.go.mapTo(window, form.go.rect().topLeft()).y())
    form.start()
    qtbot.wait(30)
    seen.append(form.go.mapTo(window, form.go.rect().topLeft()).y())
    assert set(seen) == {seen[0]}


def test_who_wants_to_type_the_place_types_it_at_once(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    form = _open_form(window, tmp_path).form
    qtbot.waitUntil(lambda: form.name.hasFocus())
    form.place.buttons["typed"].click()
    qtbot.waitUntil(lambda: form.place.line.hasFocus())
    QTest.keyClicks(form.place.line, "51.20, -2.60")
    assert form.place.read_back.text() == "51.20000° north, 2.60000° west"


def test_a_pair_that_can_be_meant_both_ways_is_turned_by_a_button(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    form = _open_form(window, tmp_path).form
    form.place.buttons["typed"].click()
    form.place.line.setText("9.18, 47.03")
    QApplication.processEvents()
    QApplication.processEvents()
    QTest.mouseClick(form.place.turn, Qt.MouseButton.LeftButton)
    assert form.place.read_back.text() == "47.03000° north, 9.18000° east"


def test_a_farm_without_a_name_or_without_its_file_is_asked_for_it(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    form = _open_form(window, tmp_path).form
    QTest.mouseClick(form.go, Qt.MouseButton.LeftButton)
    assert form.refused.text().startswith("The farm has no name yet. Type")
    form.name.setText("Ridge Farm")
    form.place.buttons["file"].click()
    QTest.mouseClick(form.go, Qt.MouseButton.LeftButton)
    assert form.refused.text() == "No file is chosen yet. Choose it, or say with Later that the place comes later."


def test_a_farm_is_started_from_an_image_on_the_web(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    form = _open_form(window, tmp_path).form
    form.name.setText("Ridge Farm")
    form.place.buttons["file"].click()
    assert form.place.address.isVisibleTo(form)
    form.place.address.setText("https://maps.example/fields.geojson")
    form.start()
    assert form.refused.text() == (
        "fields.geojson is a file of outlines; on the web only images are read. Download it, and choose the file."
    )
    with serving(written(tmp_path / "aerial.tif")) as server:
        form.place.address.setText(server.address("gone.tif"))
        form.start()
        qtbot.waitUntil(lambda: "has no gone.tif at this address" in form.refused.text(), timeout=20000)
        qtbot.waitUntil(form.go.isEnabled)
        assert not (tmp_path / "Ridge Farm.gpkg").exists()
        form.place.address.setText(server.address("aerial.tif"))
        with qtbot.waitSignal(window.stage.farm_asked, timeout=30000) as asked:
            form.start()
        (made,) = asked.args
        assert isinstance(made, Made)
        with Session.open(made.path, registry=PARTS) as session:
            assert [image.link for image in session.farm.images.values()] == [server.address("aerial.tif")]
            assert has_place(session.farm.projection)


def test_a_file_that_cannot_be_read_and_a_folder_that_is_gone_are_told_in_the_form(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    form = _open_form(window, tmp_path / "gone").form
    form.name.setText("Ridge Farm")
    QTest.mouseClick(form.go, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: "There is no folder" in form.refused.text())
    form.choose_folder = lambda *_: str(tmp_path)
    QTest.mouseClick(form.other_folder, Qt.MouseButton.LeftButton)
    assert form.folder == tmp_path
    broken = tmp_path / "parcels.geojson"
    broken.write_text("{", encoding="utf-8")
    form.place.choose_file = lambda parent, title, kinds: str(broken)
    form.place.buttons["file"].click()
    QTest.mouseClick(form.place.choose, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(form.go.isEnabled)
    QTest.mouseClick(form.go, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: "parcels.geojson is not a file of outlines" in form.refused.text())
    qtbot.waitUntil(form.go.isEnabled)


def test_the_new_farm_takes_the_place_of_the_sample_and_is_remembered(qtbot: QtBot, tmp_path: Path) -> None:
    sample = _sample(tmp_path)
    seen: list[str] = []
    until = time.monotonic() + 20.0

    def windows() -> list[Window]:
        return [each for each in QApplication.topLevelWidgets() if isinstance(each, Window) and each.isVisible()]

    def begin() -> None:
        (window,) = windows()
        form = _open_form(window, tmp_path).form
        form.name.setText("Ridge Farm")
        QTimer.singleShot(100, look)
        form.go.click()

    def look() -> None:
        seen[:] = [window.windowTitle() for window in windows()]
        if seen == ["Ridge Farm"] or time.monotonic() > until:
            QApplication.exit(7)
        else:
            QTimer.singleShot(100, look)

    QTimer.singleShot(500, begin)
    assert app.run(sample) == 7
    assert seen == ["Ridge Farm"]
    assert load_personal().last_farm == str((tmp_path / "Ridge Farm.gpkg").resolve())


@pytest.fixture
def empty(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    made = make_farm(Wanted("Ridge Farm", tmp_path, typed_place("50.001 N 9.001 E")), PARTS)
    with _shown(qtbot, made.path) as window:
        yield window


@contextmanager
def _shown(qtbot: QtBot, path: Path) -> Iterator[Window]:
    with Session.open(path, registry=PARTS) as session:
        stage = stage_for(session, TODAY)
        stop = follow(stage)
        window = Window(stage)
        window.resize(1280, 800)
        window.show()
        qtbot.waitUntil(lambda: window.part("start") is not None)
        yield window
        stop()
        window.close_down()
        drop(window)


def _parcels(path: Path, count: int) -> Path:
    features = []
    for at in range(count):
        x, y = 9.0 + at * 0.0001, 50.0
        ring = [[x, y], [x + 0.001, y], [x + 0.001, y + 0.001], [x, y + 0.001], [x, y]]
        features.append({"type": "Feature", "properties": {}, "geometry": {"type": "Polygon", "coordinates": [ring]}})
    path.write_text(json.dumps({"type": "FeatureCollection", "features": features}), encoding="utf-8")
    return path


def test_an_empty_farm_asks_for_what_there_is_and_drawing_begins(qtbot: QtBot, empty: Window) -> None:
    plate = _plate(empty)
    assert plate.bring.isVisible()
    QTest.mouseClick(plate.bring.draw, Qt.MouseButton.LeftButton)
    assert empty.stage.verb == "draw"
    assert not plate.isVisible()
    QTest.keyClick(empty, Qt.Key.Key_Escape)
    assert plate.bring.isVisible()


def test_an_empty_farm_is_shown_at_its_place(empty: Window) -> None:
    west, south, east, north = empty.map.view.bounds
    kept = place_of(empty.stage.session.farm)
    assert kept is not None
    assert west < kept.x < east
    assert south < kept.y < north
    assert kept.y > 5_000_000


def test_a_parcel_file_becomes_fields_and_the_plate_goes(qtbot: QtBot, empty: Window, tmp_path: Path) -> None:
    plate, parcels = _plate(empty), _parcels(tmp_path / "parcels.geojson", 1)
    plate.bring.choose_file = lambda parent, title, kinds: str(parcels)
    said: list[tuple[str, str]] = []
    empty.stage.noticed.connect(lambda notice: said.append((str(notice.text), notice.deed)))
    QTest.keyClick(plate.bring.parcels, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: len(empty.stage.session.farm.fields) == 1)
    qtbot.waitUntil(lambda: not plate.isVisible())
    assert said == [("1 outline came in as a field.", "undo")]


def test_of_a_parcel_file_of_a_county_the_farms_own_are_picked(qtbot: QtBot, empty: Window, tmp_path: Path) -> None:
    plate, parcels = _plate(empty), _parcels(tmp_path / "parcels.geojson", 130)
    plate.bring.choose_file = lambda parent, title, kinds: str(parcels)
    QTest.mouseClick(plate.bring.parcels, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: empty.stage.verb == "parcels")
    assert not plate.isVisible()
    picking = picking_of(empty.stage)
    assert picking.parcels is not None
    assert picking.parcels.all_there == 130
    picking.turn(0)
    QTest.keyClick(empty.map, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: len(empty.stage.session.farm.fields) == 1)
    qtbot.waitUntil(lambda: empty.stage.verb == "pick")


def test_a_picture_is_pinned_from_the_plate(qtbot: QtBot, empty: Window, tmp_path: Path) -> None:
    picture = QImage(80, 60, QImage.Format.Format_RGB32)
    picture.fill(Qt.GlobalColor.white)
    picture.save(str(tmp_path / "scan.png"))
    plate = _plate(empty)
    plate.bring.choose_file = lambda parent, title, kinds: str(tmp_path / "scan.png")
    QTest.mouseClick(plate.bring.picture, Qt.MouseButton.LeftButton)
    pinning = pinning_of(empty.stage)
    qtbot.waitUntil(lambda: pinning.path is not None)
    assert (empty.stage.verb, pinning.size) == ("pin", (80, 60))
    assert not plate.isVisible()


def test_a_file_gives_a_farm_without_a_place_its_place(qtbot: QtBot, tmp_path: Path) -> None:
    made = make_farm(Wanted("Ridge Farm", tmp_path), PARTS)
    parcels = _parcels(tmp_path / "parcels.geojson", 1)
    with _shown(qtbot, made.path) as window:
        plate = _plate(window)
        plate.form.folder = tmp_path
        plate.bring.choose_file = lambda parent, title, kinds: str(parcels)
        QTest.mouseClick(plate.bring.parcels, Qt.MouseButton.LeftButton)
        assert plate.form.isVisible()
        assert plate.form.name.text() == "Ridge Farm"
        with qtbot.waitSignal(window.stage.farm_asked) as asked:
            QTest.mouseClick(plate.form.go, Qt.MouseButton.LeftButton)
        assert asked.args[0].path.name == "Ridge Farm 2.gpkg"
        qtbot.waitUntil(plate.form.go.isEnabled)
