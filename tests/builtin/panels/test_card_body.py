from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.card_body import LEFT
from pigmap.qt.stage import Picked
from pigmap.qt.window import Window
from tests.qt.window_farm import made_window


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path) as made:
        yield made


def _card(window: Window, picked: Picked) -> Card:
    window.stage.pick(picked)
    QApplication.processEvents()
    card = window.panel("card")
    assert isinstance(card, Card)
    card._body.grab()  # where the rows lie is known once they were drawn
    return card


def test_what_a_row_rests_on_is_put_away_with_its_card(window: Window) -> None:
    body = _card(window, Picked("paddocks", "group0p2"))._body
    high = body.heightForWidth(300)
    body.ask(0)
    assert body.heightForWidth(300) > high
    _card(window, Picked("paddocks", "group1p2"))
    assert body.asked == ""
    _card(window, Picked("paddocks", "group0p2"))
    assert body.heightForWidth(300) == high


@pytest.mark.parametrize("size", [(1280, 800), (1280, 620), (900, 700), (1024, 600)])
@pytest.mark.parametrize("text_scale", [1.0, 1.5])
def test_a_card_that_scrolls_ends_with_a_whole_row(
    qtbot: QtBot, tmp_path: Path, size: tuple[int, int], text_scale: float
) -> None:
    with made_window(tmp_path, size=size, text_scale=text_scale) as window:
        card = _card(window, Picked("paddocks", "group0p2"))
        seen = card._scroll.viewport().height()
        body = card._body
        cut = [number for number, box in body._boxes.items() if box.top() + 2 < seen < int(box.bottom())]
        assert cut == []
        assert body.heightForWidth(body.width()) > seen or seen >= max(box.bottom() for box in body._boxes.values())


def test_rows_in_two_columns_stand_side_by_side(qtbot: QtBot, tmp_path: Path) -> None:
    with made_window(tmp_path, size=(900, 700), text_scale=1.5) as window:
        body = _card(window, Picked("paddocks", "group0p3"))._body
        assert body.columns == 2
        boxes = [body._boxes[number] for number in sorted(body._boxes)]
        half = -(-len(boxes) // 2)
        for left, right in zip(boxes[:half], boxes[half:], strict=False):
            assert left.top() == right.top()
            assert left.right() < right.left()


def test_the_frame_of_the_row_with_the_keys_cuts_through_no_word(window: Window) -> None:
    card = _card(window, Picked("groups", "group0"))
    body = card._body
    first = body._boxes[0]

    def rows() -> QImage:
        shot = body.grab().toImage()
        scale = shot.devicePixelRatio()
        box = first.translated(LEFT, 0)
        return shot.copy(QRectF(box.x() * scale, (box.y() + 6) * scale, box.width() * scale, 16 * scale).toRect())

    without = rows()
    body.setFocus()
    QApplication.processEvents()
    assert body.hasFocus()
    assert rows() == without
    assert card.rect().contains(card._scroll.geometry())


def test_on_a_low_map_the_first_deeds_stay_in_sight_and_the_rest_scroll(qtbot: QtBot, tmp_path: Path) -> None:
    with made_window(tmp_path, size=(1024, 600)) as window:
        card = _card(window, Picked("groups", "group0"))
        buttons = {each.text(): each for each in card._deeds.buttons}
        foot = [words for words, each in buttons.items() if each.parentWidget() is card]
        assert foot == ["Moved", "All well", "What they need", "What happened"]  # as many as leave room for the facts
        assert all(each.isVisible() for each in buttons.values())
        assert len([box for box in card._body._boxes.values() if box.bottom() <= card._scroll.viewport().height()]) >= 3
        last = card._deeds.buttons[-1]
        assert not last.visibleRegion().boundingRect().height()
        card._deeds.buttons[-2].setFocus()
        QTest.keyClick(card._deeds.buttons[-2], Qt.Key.Key_Tab)
        assert last.hasFocus()
        assert last.visibleRegion().boundingRect().height() == last.height()


def test_where_there_is_room_all_deeds_stand_at_the_foot(window: Window) -> None:
    card = _card(window, Picked("groups", "group0"))
    assert {each.parentWidget() for each in card._deeds.buttons} == {card}
    window.resize(1024, 600)
    QApplication.processEvents()
    assert {each.parentWidget() for each in card._deeds.buttons} == {card, card._body}
    window.resize(1600, 1000)
    QApplication.processEvents()
    assert {each.parentWidget() for each in card._deeds.buttons} == {card}
    assert all(each.isVisible() for each in card._deeds.buttons)


def test_on_a_small_window_most_facts_of_a_paddock_are_in_sight_and_its_first_deeds(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with made_window(tmp_path, size=(1280, 800)) as window:
        card = _card(window, Picked("stays", "group0s2"))
        shown = card._scroll.viewport().height()
        assert len([box for box in card._body._boxes.values() if box.bottom() <= shown]) >= 6
        assert [each.text() for each in card._deeds.buttons[:2]] == ["A day less", "A day more"]
        assert all(each.visibleRegion().boundingRect().height() for each in card._deeds.buttons[:2])
