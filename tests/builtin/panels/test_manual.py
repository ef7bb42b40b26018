from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QUrl
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.manual import Manual
from pigmap.builtin.panels.manual_pages import OF_PICKED, OF_VERB, ORDER
from pigmap.qt.stage import Picked
from pigmap.qt.window import Window
from tests.qt.window_farm import made_window


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path) as made:
        yield made


def _opened(window: Window) -> Manual:
    QTest.keyClick(window.map, Qt.Key.Key_F1)
    plate = window.panel("manual")
    assert isinstance(plate, Manual)
    assert plate.isVisible()
    return plate


def test_the_manual_is_made_when_it_is_asked_for_and_not_before(window: Window) -> None:
    window.make_rest()
    assert window.findChildren(Manual) == []
    assert window.panel("manual") is not None
    assert len(window.findChildren(Manual)) == 1


def test_f1_opens_the_first_page_and_esc_closes(window: Window) -> None:
    plate = _opened(window)
    assert plate.page == "begin"
    assert "Start my farm" in plate.view.toPlainText()
    QTest.keyClick(plate.view, Qt.Key.Key_Escape)
    assert not plate.isVisible()


def test_a_page_is_shown_from_its_head(window: Window) -> None:
    window.stage.plate_asked.emit("manual")
    QApplication.processEvents()
    manual = window.panel("manual")
    assert isinstance(manual, Manual)
    assert manual.view.verticalScrollBar().maximum() > 0
    assert manual.view.verticalScrollBar().value() == 0


def test_f1_opens_the_page_that_fits_the_verb_or_what_is_picked(window: Window) -> None:
    window.stage.take_up("place")
    plate = _opened(window)
    assert plate.page == "placing"
    plate.put_away()
    window.stage.take_up("pick")
    window.stage.pick(Picked("fields", "field"))
    assert _opened(window).page == "ground"


def test_who_goes_by_the_first_page_comes_back_to_where_it_was_left(window: Window) -> None:
    plate = _opened(window)
    plate.view.verticalScrollBar().setValue(120)
    plate.put_away()
    window.stage.take_up("place")
    again = _opened(window)
    assert (again.page, again.view.verticalScrollBar().value()) == ("begin", 120)
    again.go_to("checks")
    again.put_away()
    assert _opened(window).page == "placing"


def test_links_lead_on_and_back_and_forward_follow(window: Window) -> None:
    plate = _opened(window)
    plate.view.anchorClicked.emit(QUrl("placing.md"))
    assert plate.page == "placing"
    plate.back.click()
    assert plate.page == "begin"
    QTest.keyClick(plate.view, Qt.Key.Key_Right, Qt.KeyboardModifier.AltModifier)
    assert plate.page == "placing"


def test_a_page_is_chosen_in_the_contents(window: Window) -> None:
    plate = _opened(window)
    plate.contents.setCurrentRow(ORDER.index("keys"))
    assert plate.page == "keys"
    assert "turn by 5 degrees" in plate.view.toPlainText()


def test_lines_of_a_page_are_no_longer_than_reads_well(window: Window) -> None:
    plate = _opened(window)
    lines = [
        block.layout().lineAt(at).textLength()
        for block in (plate.view.document().findBlockByNumber(n) for n in range(plate.view.document().blockCount()))
        for at in range(block.layout().lineCount())
    ]
    assert 50 <= max(lines) <= 76


def test_a_narrow_map_has_the_contents_above(window: Window) -> None:
    window.resize(620, 700)
    QApplication.processEvents()
    plate = _opened(window)
    assert plate.short_contents.isVisible()
    assert not plate.contents.isVisible()
    assert plate.geometry().right() <= window.map.width()


@pytest.mark.parametrize(
    ("size", "text_scale", "contents"),
    [((1600, 1000), 1.0, False), ((1280, 800), 1.0, False), ((1920, 1080), 1.0, True), ((1600, 1000), 1.5, False)],
)
def test_help_lies_beside_the_map_and_gives_its_room_back(
    qtbot: QtBot, tmp_path: Path, size: tuple[int, int], text_scale: float, contents: bool
) -> None:
    with made_window(tmp_path, size=size, text_scale=text_scale) as window:
        before = window.map.geometry()
        plate = _opened(window)
        assert plate.geometry().left() == window.map.geometry().right() + 1
        assert plate.geometry().right() == before.right()
        assert window.map.width() >= 480
        assert plate.contents.isVisible() == contents
        QTest.keyClick(plate.view, Qt.Key.Key_Escape)
        assert window.map.geometry() == before
        assert window.map.hasFocus()


def test_the_map_is_worked_on_while_help_is_open(window: Window) -> None:
    plate = _opened(window)
    window.map.setFocus()
    QTest.keyClick(window.map, Qt.Key.Key_P)
    assert window.stage.verb == "place"
    assert plate.isVisible()
    window.stage.plate_asked.emit("find")
    assert plate.isVisible()
    QTest.keyClick(window.map, Qt.Key.Key_F6)
    QTest.keyClick(window.map, Qt.Key.Key_F1)
    assert plate.page == "placing"


def test_help_lies_over_a_map_that_has_no_room_for_it(window: Window) -> None:
    window.resize(900, 700)
    window.stage.text_scale = 1.5
    QApplication.processEvents()
    plate = _opened(window)
    assert plate.geometry() == window.map.geometry()


def test_pictures_are_as_broad_as_the_page_at_most(window: Window) -> None:
    plate = _opened(window)
    image = plate.view.loadResource(2, "pictures/placing.webp")
    assert 300 < image.width() / image.devicePixelRatio() <= plate.view.width()


def test_pages_for_verbs_and_picked_things_are_pages() -> None:
    assert {*OF_VERB.values(), *OF_PICKED.values()} <= set(ORDER)
