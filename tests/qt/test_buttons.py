from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from time import monotonic

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pigmap.qt.buttons import SECOND_PRESS_S, WordButton
from pigmap.qt.stage import Stage
from tests.qt.window_farm import made_stage

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def pair(qtbot: QtBot, stage: Stage) -> Iterator[tuple[WordButton, WordButton, list[str]]]:
    """Two buttons on one spot: the first goes when it is pressed, and the second lies there then."""
    holder, pressed = QWidget(), list[str]()
    qtbot.addWidget(holder)
    below, above = (WordButton(stage, words, parent=holder) for words in ("Remove", "So they stand"))
    for button in (below, above):
        button.resize(140, 44)
        button.clicked.connect(lambda _=False, button=button: pressed.append(button.text()))
    above.clicked.connect(above.hide)
    holder.resize(200, 100)
    holder.show()
    yield below, above, pressed
    holder.close()


def test_the_second_press_of_a_double_click_does_not_press_what_came_up_there(
    pair: tuple[WordButton, WordButton, list[str]],
) -> None:
    below, above, pressed = pair
    QTest.mouseClick(above, LEFT)
    QTest.mouseClick(below, LEFT)
    QTest.mouseDClick(below, LEFT)
    assert pressed == ["So they stand"]


def test_what_came_up_is_pressed_a_moment_later(
    monkeypatch: pytest.MonkeyPatch, pair: tuple[WordButton, WordButton, list[str]]
) -> None:
    below, above, pressed = pair
    QTest.mouseClick(above, LEFT)
    now = monotonic() + SECOND_PRESS_S + 0.1
    monkeypatch.setattr("pigmap.qt.buttons.monotonic", lambda: now)
    QTest.mouseClick(below, LEFT)
    assert pressed == ["So they stand", "Remove"]


def test_a_button_whose_words_changed_is_another_button_and_quick_presses_on_one_all_count(
    pair: tuple[WordButton, WordButton, list[str]],
) -> None:
    below, above, pressed = pair
    above.hide()
    for _ in range(3):
        QTest.mouseClick(below, LEFT)
    below.setText("Remove it all the same")
    QTest.mouseClick(below, LEFT)
    assert pressed == ["Remove"] * 3
