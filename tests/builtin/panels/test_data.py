from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.formats.vector import format as vector
from pigmap.builtin.panels.data import Data
from pigmap.builtin.panels.data_out import KINDS, WHATS
from pigmap.geometry.projection import projection_for
from pigmap.qt.stage import Picked
from pigmap.qt.window import Window
from pigmap.records.projection import NO_PLACE
from pigmap.session.handing_out import SUFFIXES, WHAT
from tests.qt.window_farm import made_window

UTM = projection_for("", (9.0, 50.0))


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path, projection=UTM) as made:
        yield made


def plate_of(window: Window) -> Data:
    window.stage.plate_asked.emit("data")
    plate = window.panel("data")
    assert isinstance(plate, Data)
    assert plate.isVisible()
    return plate


def looked(qtbot: QtBot, plate: Data, path: Path) -> None:
    plate.taking.take_file(path)
    qtbot.waitUntil(plate.taking.choose.isEnabled)


def stays(folder: Path, words: str) -> Path:
    path = folder / "stays.csv"
    path.write_text(words, encoding="utf-8")
    return path


def test_everything_the_command_hands_out_can_be_chosen() -> None:
    assert {what for what, _ in WHATS} == set(WHAT)
    assert {kind for kind, _ in KINDS} == set(SUFFIXES) - {".shp"}


def test_corners_of_the_picked_paddock_go_to_a_file_for_a_phone(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    paddock = next(iter(window.stage.session.farm.paddocks.values()))
    window.stage.pick(Picked("paddocks", paddock.uid))
    plate = plate_of(window)
    assert plate.out.what.currentText() == f"Corners of {paddock.name}, for a phone"
    asked: list[str] = []

    def choose(parent: QWidget, title: str, name: str, kinds: str) -> str:
        asked.extend((title, name, kinds))
        return str(tmp_path / "corners")

    plate.out.choose_file = choose
    plate.out.go.click()
    qtbot.waitUntil(plate.out.go.isEnabled)
    assert asked[2] == "GPX, for phones (*.gpx)"
    assert asked[1].startswith(f"{paddock.name} corners 20")
    assert len(vector.read(tmp_path / "corners.gpx").rows) == 4


def test_the_list_of_nets_is_a_table(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    out = plate_of(window).out
    out.what.setCurrentIndex(out.what.findData("nets"))
    assert out.kind.currentData() == ".csv"
    assert not out.kind.isEnabled()
    out.write(tmp_path / "nets.csv")
    qtbot.waitUntil(out.go.isEnabled)
    assert (tmp_path / "nets.csv").read_text(encoding="utf-8-sig").startswith("kind,length_m")


def test_what_cannot_be_written_is_said_on_the_plate(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    out = plate_of(window).out
    out.write(tmp_path / "gone" / "a.gpx")
    qtbot.waitUntil(out.go.isEnabled)
    assert "cannot be written: No such file or directory. Look whether the folder" in out.said.text()


def test_a_file_is_told_before_it_is_taken_in_and_undo_takes_it_back(
    window: Window, qtbot: QtBot, tmp_path: Path
) -> None:
    session = window.stage.session
    group, paddock = next(iter(session.farm.groups.values())), next(iter(session.farm.paddocks.values()))
    before = len(session.farm.stays)
    words = (
        f"group,paddock,in,out\n{group.name},{paddock.name},2025-01-02,2025-01-05\nNobody,{paddock.name},2025-01-02,\n"
    )
    plate = plate_of(window)
    looked(qtbot, plate, stays(tmp_path, words))
    taking = plate.taking
    assert not plate.out.isVisibleTo(plate)
    assert taking.told.text() == "Stays out of stays.csv: 1 taken, 1 refused."
    assert f"Row 2, Nobody {paddock.name} 2025-01-02: there is no group 'Nobody'." in taking.more.text()
    assert len(session.farm.stays) == before
    taking.go.click()
    qtbot.waitUntil(lambda: len(session.farm.stays) == before + 1)
    assert plate.out.isVisibleTo(plate)
    assert taking.told.text() == ""
    session.undo().result()
    assert len(session.farm.stays) == before


def test_a_column_is_asked_for_where_the_file_does_not_say_it(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    session = window.stage.session
    group, paddock = next(iter(session.farm.groups.values())), next(iter(session.farm.paddocks.values()))
    plate = plate_of(window)
    words = f"who,paddock,in,out\n{group.name},{paddock.name},2025-01-02,2025-01-05\n"
    looked(qtbot, plate, stays(tmp_path, words))
    taking = plate.taking
    assert "does not show what it holds" in taking.more.text()
    assert not taking.go.isVisibleTo(plate)
    taking.holds.setCurrentIndex(taking.holds.findData("stays"))
    taking.look()
    qtbot.waitUntil(taking.choose.isEnabled)
    box = taking.columns["group"]
    assert box.isVisibleTo(plate)
    assert not taking.columns["day"].isVisibleTo(plate)
    box.setCurrentIndex(box.findData("who"))
    taking.look()
    qtbot.waitUntil(taking.choose.isEnabled)
    assert taking.told.text() == "Stays out of stays.csv: 1 taken."


def test_a_layer_is_asked_for_where_there_are_several(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    from tests.builtin.formats.test_vector import EAST, SQUARE, write

    path = write(tmp_path / "a.gpkg", [SQUARE], layer="ley", name=["Ley"])
    write(path, [EAST], layer="wood", append=True, number=[1])
    plate = plate_of(window)
    looked(qtbot, plate, path)
    taking = plate.taking
    assert "a.gpkg has 2 layers with rows: ley (1), wood (1). Name the one that is meant." in taking.more.text()
    assert [taking.layer.itemText(at) for at in range(taking.layer.count())] == ["the one with shapes", "ley", "wood"]
    taking.layer.setCurrentIndex(1)
    taking.look()
    qtbot.waitUntil(taking.choose.isEnabled)
    assert taking.told.text() == "Fields out of a.gpkg: 1 taken."
    taking.leave.click()
    assert taking.path is None
    assert not taking.layer.isVisibleTo(plate)


def test_a_file_that_is_not_there_is_said(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    plate = plate_of(window)
    looked(qtbot, plate, tmp_path / "gone.gpkg")
    assert plate.taking.more.text().startswith("The file gone.gpkg is not in")


def test_it_is_found_by_what_people_call_it_and_all_of_it_has_a_name(window: Window) -> None:
    plate = plate_of(window)
    for box in (plate.out.what, plate.out.kind, plate.taking.holds, plate.taking.layer, plate.taking.crs):
        assert box.accessibleName()
    QTest.keyClick(plate, Qt.Key.Key_Escape)
    assert not plate.isVisible()


def test_a_farm_without_a_place_says_why_no_phone_can_have_it(qtbot: QtBot, tmp_path: Path) -> None:
    with made_window(tmp_path, projection=NO_PLACE) as window:
        out = plate_of(window).out
        out.write(tmp_path / "a.gpx")
        qtbot.waitUntil(out.go.isEnabled)
        assert "no place on the map of the world yet" in out.said.text()


def test_the_button_has_the_keys_again_once_the_file_is_written(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    out = plate_of(window).out
    out.go.setFocus()
    out.write(tmp_path / "a.geojson")
    assert not out.go.isEnabled()
    qtbot.waitUntil(out.go.isEnabled)
    assert out.go.hasFocus()


def test_esc_puts_the_plate_away_after_a_press_on_what_hands_out(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    plate = plate_of(window)
    plate.out.choose_file = lambda *_: str(tmp_path / "a.geojson")
    plate.out.kind.setCurrentIndex(plate.out.kind.findData(".geojson"))
    QTest.mouseClick(plate.out.go, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(plate.out.go.isEnabled)
    QTest.keyClick(QApplication.focusWidget() or window, Qt.Key.Key_Escape)
    assert plate.isHidden()
