from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import shapely
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMenu
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.farm_place import FarmPlace
from pigmap.builtin.panels.more_menu import MoreMenu
from pigmap.builtin.panels.start import StartPlate
from pigmap.document.edits import add_field, add_place, link_image
from pigmap.geometry.projection import from_projection
from pigmap.geometry.typed_place import typed_place
from pigmap.qt.following import follow
from pigmap.qt.stage import Picked
from pigmap.qt.starting import stage_for
from pigmap.qt.window import Window
from pigmap.records import PlaceKind
from pigmap.session import Session
from pigmap.session.new_farm import Wanted, make_farm
from tests.qt.window_farm import PARTS, TODAY, drop

GATE = shapely.Point(10, 20)


def _window(path: Path, qtbot: QtBot) -> Iterator[Window]:
    with Session.open(path, registry=PARTS) as session:
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


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    path = make_farm(Wanted("Ridge Farm", tmp_path), PARTS).path
    with Session.open(path, registry=PARTS) as session:
        session.do(add_field("Hill", shapely.box(0, 0, 200, 100))).result()
        session.do(add_place(PlaceKind.GATE, GATE, uid="gate", name="Yard gate")).result()
    yield from _window(path, qtbot)


@pytest.fixture
def empty(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    yield from _window(make_farm(Wanted("Ridge Farm", tmp_path), PARTS).path, qtbot)


def _plate(window: Window) -> FarmPlace:
    window.stage.plate_asked.emit("farm-place")
    plate = window.panel("farm-place")
    assert isinstance(plate, FarmPlace)
    assert plate.isVisible()
    return plate


def _at(window: Window, east: float, north: float) -> tuple[float, float]:
    (at,) = from_projection([shapely.Point(east, north)], window.stage.session.farm.projection)
    lon, lat = shapely.get_coordinates(at)[0].tolist()
    return lon, lat


def _menu(window: Window) -> list[str]:
    def nothing() -> None:
        pass

    menu: QMenu = MoreMenu(window.stage, window, sheet=nothing, redo=nothing, map_only=nothing)
    return [action.text() for action in menu.actions()]


def test_the_place_is_typed_and_the_middle_of_the_field_lies_there(window: Window) -> None:
    plate = _plate(window)
    assert plate.now.text() == "This farm has no place on the map of the world yet."
    assert plate.middle.text() == "The middle of the field"
    assert plate.place.line.hasFocus()
    QTest.keyClicks(plate.place.line, "47° 1.8' N 99° 10.8' W")
    assert plate.place.read_back.text() == "47.03000° north, 99.18000° west"
    QTest.keyClick(plate.place.line, Qt.Key.Key_Return)
    assert _at(window, 100, 50) == pytest.approx((-99.18, 47.03), abs=1e-9)
    assert not plate.isVisible()
    said = window.stage.notices[-1]
    assert window.stage.words(said.text) == "The farm lies at 47.03000° north, 99.18000° west."
    assert said.deed == "undo"
    window.stage.session.undo().result()
    assert not window.stage.session.farm.projection.has_place


def test_what_is_picked_can_be_the_spot(window: Window) -> None:
    window.stage.pick(Picked("places", "gate"))
    plate = _plate(window)
    assert plate.picked.text() == "Yard gate"
    assert plate.picked.isChecked()
    QTest.keyClicks(plate.place.line, "47.03, -99.18")
    plate.go.click()
    assert _at(window, 10, 20) == pytest.approx((-99.18, 47.03), abs=1e-9)


def test_what_is_picked_while_the_plate_is_open_is_the_spot_until_nothing_is(window: Window) -> None:
    plate = _plate(window)
    assert plate.picked.isHidden()
    assert "is offered here too" in plate.spot_said.text()
    window.stage.pick(Picked("places", "gate"))
    assert plate.picked.isVisible()
    assert plate.picked.isChecked()
    assert plate.place.line.hasFocus()
    window.stage.pick(None)
    assert plate.picked.isHidden()
    assert plate.middle.isChecked()


def test_two_numbers_that_can_be_meant_both_ways_are_turned(window: Window) -> None:
    plate = _plate(window)
    QTest.keyClicks(plate.place.line, "9.1, 50.2")
    assert plate.place.read_back.text() == "9.10000° north, 50.20000° east"
    plate.place.turn.click()
    plate.go.click()
    assert _at(window, 100, 50) == pytest.approx((9.1, 50.2), abs=1e-9)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("", "No place is typed yet. Type it as the phone shows it, such as 47.03, -99.18."),
        ("95.0 N 9.0 E", "The latitude 95.0 N is over 90, which is the pole."),
        ("47.03", "47.03 is one number; a place has two, a latitude and a longitude."),
    ],
)
def test_what_does_not_read_as_a_place_is_said_and_stays(window: Window, typed: str, words: str) -> None:
    plate = _plate(window)
    QTest.keyClicks(plate.place.line, typed)
    plate.go.click()
    assert (words in plate.refused.text()) != (words in plate.place.read_back.text())
    assert plate.place.line.text() == typed
    assert plate.isVisible()
    assert not window.stage.session.farm.projection.has_place
    QTest.keyClicks(plate.place.line, "1")
    assert plate.refused.text() == ""


def test_the_menu_offers_it_as_long_as_it_can_be_given(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    assert "Place of the farm" in _menu(window)
    plate = _plate(window)
    QTest.keyClicks(plate.place.line, "47.03, -99.18")
    plate.go.click()
    assert "Place of the farm" in _menu(window)
    again = _plate(window)
    assert again.now.text() == "The farm lies at 47.03000° north, 99.18000° west. It can be put right here."


def test_a_farm_begun_at_a_wrong_place_is_put_right(qtbot: QtBot, tmp_path: Path) -> None:
    path = make_farm(Wanted("Ridge Farm", tmp_path, typed_place("50.0 N 9.0 E")), PARTS).path
    for window in _window(path, qtbot):
        assert "Place of the farm" in _menu(window)
        plate = _plate(window)
        assert plate.now.text() == "The farm lies at 50.00000° north, 9.00000° east. It can be put right here."
        assert plate.moves.text() == ""
        QTest.keyClicks(plate.place.line, "49.9, 9.0")
        assert plate.moves.text().startswith("All that is drawn moves 111")
        assert plate.moves.text().endswith(" m to the south. Undo brings it back.")
        assert plate.off.isHidden()
        before = window.stage.session.farm.projection
        plate.go.click()
        assert window.stage.session.farm.projection != before
        window.stage.session.undo().result()
        assert window.stage.session.farm.projection == before


def test_moving_it_off_an_image_has_to_be_said(qtbot: QtBot, tmp_path: Path) -> None:
    path = make_farm(Wanted("Ridge Farm", tmp_path, typed_place("50.0 N 9.0 E")), PARTS).path
    for window in _window(path, qtbot):
        session = window.stage.session
        session.do(link_image("Aerial image", "aerial.tif")).result()
        before = session.farm.projection
        plate = _plate(window)
        assert plate.off.isHidden()
        QTest.keyClicks(plate.place.line, "49.9, 9.0")
        assert (plate.off.isVisible(), plate.off.text()) == (True, "It may move off Aerial image")
        plate.go.click()
        assert "would stay there" in plate.refused.text()
        assert session.farm.projection == before
        plate.off.click()
        plate.go.click()
        assert session.farm.projection != before


def test_the_first_page_of_an_empty_farm_leads_there_and_takes_files_then(empty: Window) -> None:
    start = empty.panel("start")
    assert isinstance(start, StartPlate)
    assert start.bring.place.isVisible()
    start.bring.place.click()
    plate = empty.panel("farm-place")
    assert isinstance(plate, FarmPlace)
    assert plate.isVisible()
    assert plate.middle.text() == "The middle of the empty grid"
    QTest.keyClicks(plate.place.line, "47.03, -99.18")
    plate.go.click()
    assert _at(empty, 0, 0) == pytest.approx((-99.18, 47.03), abs=1e-9)
    assert start.bring.place.isHidden()
    assert "no place" not in start.bring._no_place.text()
