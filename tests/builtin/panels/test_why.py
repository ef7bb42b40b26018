from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.card_body import CardBody
from pigmap.builtin.panels.other_facts import card_of
from pigmap.qt.stage import Picked
from pigmap.qt.window import Window
from pigmap.text import source
from tests.qt.window_farm import made_window


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path) as made:
        made.map.settle()
        yield made


SOURCES = [str(text) for name, text in vars(source).items() if name.isupper()]


@pytest.mark.parametrize(
    ("table", "uid"), [("fields", "field"), ("groups", "group0"), ("groups", "group1"), ("paddocks", "group0p1")]
)
def test_every_figure_has_a_why_with_a_source(window: Window, table: str, uid: str) -> None:
    card = card_of(window.stage, Picked(table, uid))
    assert card is not None
    assert card.facts
    assert [fact.label for fact in card.facts if fact.why is None] == []
    for fact in card.facts:
        assert fact.why is not None
        assert fact.why.words
        assert any(words in fact.why.source for words in SOURCES), fact.why.source


def test_the_rest_of_a_paddock_says_from_when(window: Window) -> None:
    card = card_of(window.stage, Picked("paddocks", "group0p1"))
    assert card is not None
    (why,) = [fact.why for fact in card.facts if fact.label == "Rest"]
    assert why is not None
    assert why.words == "2 days: from Mon 11 May 2026, when pigs last left any of it, to Wed 13 May."
    assert why.source == "your own records"


def _body(window: Window) -> CardBody:
    window.stage.pick(Picked("fields", "field"))
    card = window.panel("card")
    assert isinstance(card, Card)
    card.grab()
    return card._body


def test_a_row_that_is_touched_says_what_it_rests_on_and_again_hides_it(window: Window) -> None:
    body = _body(window)
    high = body.heightForWidth(300)
    spot = body._boxes[0].center().toPoint()
    QTest.mouseClick(body, Qt.MouseButton.LeftButton, pos=QPoint(spot))
    assert body.heightForWidth(300) > high
    assert "Measured from the outline" in body.accessibleName()
    QTest.mouseClick(body, Qt.MouseButton.LeftButton, pos=QPoint(spot))
    assert body.heightForWidth(300) == high


def test_the_keys_choose_a_row_and_ask_it(window: Window) -> None:
    body = _body(window)
    high = body.heightForWidth(300)
    body.setFocus()
    QTest.keyClick(body, Qt.Key.Key_Down)
    assert body.accessibleName() == f"Paddocks: {body.facts.facts[1].figure}"
    QTest.keyClick(body, Qt.Key.Key_Return)
    assert body.heightForWidth(300) > high
    QTest.keyClick(body, Qt.Key.Key_Space)
    assert body.heightForWidth(300) == high


def test_what_a_low_row_rests_on_comes_into_sight(window: Window) -> None:
    window.resize(1280, 620)
    body = _body(window)
    body.ask(len(body.facts.facts) - 1)
    card = window.panel("card")
    assert isinstance(card, Card)
    top = card._scroll.verticalScrollBar().value()
    assert top <= body.asked_box().bottom() <= top + card._scroll.viewport().height() + 1
