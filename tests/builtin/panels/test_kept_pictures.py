from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels import kept_pictures
from pigmap.builtin.panels.kept_pictures import KeptPictures
from pigmap.document.edits import link_image
from pigmap.paths import cache_folder
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.window import Window
from pigmap.session.kept_pictures import SUBFOLDER
from pigmap.session.personal import load_personal
from tests.qt.window_farm import made_window


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    folder = cache_folder() / "kept"
    folder.mkdir(parents=True)
    for number, size in enumerate((5_200_000, 300_000)):
        (folder / f"{number:032x}.kept").write_bytes(bytes(size))
    with made_window(tmp_path) as made:
        yield made


@pytest.fixture
def plate(window: Window) -> KeptPictures:
    window.stage.plate_asked.emit("kept-pictures")
    shown = window.panel("kept-pictures")
    assert isinstance(shown, KeptPictures)
    assert shown.isVisible()
    return shown


def choose(box: ChoiceBox, words: str) -> None:
    """Choose with the keys."""
    box.setFocus()
    while box.currentText() != words:
        before = box.currentIndex()
        QTest.keyClick(box, Qt.Key.Key_Down if box.findText(words) > before else Qt.Key.Key_Up)
        assert box.currentIndex() != before


def test_it_tells_how_much_is_kept_and_clears_it(plate: KeptPictures) -> None:
    assert plate.now.text() == "Kept now: 6 MB, of 2 images."
    QTest.keyClick(plate.clear, Qt.Key.Key_Return)
    assert plate.said.text() == "6 MB cleared. They are made again when an image is next opened."
    assert plate.now.text() == "Nothing is kept now."
    assert not plate.clear.isEnabled()
    assert list((cache_folder() / "kept").iterdir()) == []


def test_amounts_are_chosen_with_the_keys_and_kept(plate: KeptPictures, window: Window) -> None:
    assert (plate.disk.currentText(), plate.memory.currentText()) == ("4 GB", "256 MB")
    choose(plate.disk, "500 MB")
    choose(plate.memory, "1 GB")
    assert (load_personal().kept_mb, load_personal().tiles_mb) == (500, 1024)
    assert window.map.picture.photo.cache.most_bytes == 1024 * 1024 * 1024
    choose(plate.memory, "128 MB")
    assert window.map.picture.photo.cache.most_bytes == 128 * 1024 * 1024


def test_another_folder_is_chosen_and_the_usual_one_again(
    plate: KeptPictures, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert plate.usual.isHidden()
    monkeypatch.setattr(kept_pictures, "choose_folder", lambda *_: str(tmp_path / "disk"))
    QTest.keyClick(plate.choose, Qt.Key.Key_Space)
    assert plate.folder.accessibleName() == str(tmp_path / "disk" / SUBFOLDER)
    assert plate.said.text() == "Pictures are kept here from now on; 6 MB in the old folder were cleared."
    QTest.keyClick(plate.usual, Qt.Key.Key_Return)
    assert plate.folder.accessibleName() == str(cache_folder() / "kept")
    assert plate.said.text() == "Pictures are kept here from now on."


def test_a_folder_that_takes_nothing_is_said_on_the_plate(
    plate: KeptPictures, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setattr(kept_pictures, "choose_folder", lambda *_: str(tmp_path / "file"))
    QTest.keyClick(plate.choose, Qt.Key.Key_Space)
    assert plate.said.text().startswith("Nothing can be written to ")
    assert plate.said.text().endswith(
        "Choose a folder of your own, on a disk of this computer; pictures are kept where they were."
    )
    assert plate.folder.accessibleName() == str(cache_folder() / "kept")


def test_it_tells_how_far_those_of_an_image_are(plate: KeptPictures, window: Window) -> None:
    stage = window.stage
    stage.session.do(link_image("Aerial 2025", "images/aerial.tif")).result()
    uid = next(iter(stage.session.farm.images))
    stage.picture_grew.emit(uid, 0.42)
    assert plate.making.text() == "Those of Aerial 2025 are being made: 42 %."
    stage.picture_grew.emit(uid, 1.0)
    assert plate.making.text() == ""


def test_every_control_is_reached_by_tab_and_named(plate: KeptPictures) -> None:
    reached: list[QWidget] = []
    plate.first().setFocus()
    for _ in range(12):
        focus = QApplication.focusWidget()
        assert focus is not None
        if focus in reached:
            break
        reached.append(focus)
        QTest.keyClick(focus, Qt.Key.Key_Tab)
    assert {plate.disk, plate.clear, plate.memory, plate.choose} <= set(reached)
    assert all(each.accessibleName() for each in reached)


def test_in_a_low_window_the_control_that_gets_the_keys_comes_into_sight(plate: KeptPictures, window: Window) -> None:
    window.resize(1100, 520)
    QApplication.processEvents()
    assert plate.tall.inner.height() > plate.tall.viewport().height()
    plate.first().setFocus()
    for _ in range(4):
        focus = QApplication.focusWidget()
        assert focus is not None
        if focus is plate.choose:
            break
        QTest.keyClick(focus, Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is plate.choose
    QApplication.processEvents()
    top = plate.choose.mapTo(plate.tall.viewport(), plate.choose.rect().topLeft()).y()
    assert 0 <= top <= plate.tall.viewport().height() - plate.choose.height()
