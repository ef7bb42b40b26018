"""A stepper with a line to type into: what is typed has the room of its steps, too."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from pigmap.qt.stage import Stage
from pigmap.qt.stepper import Stepper
from tests.qt.window_farm import made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def stepper(stage: Stage, qtbot: QtBot) -> Iterator[Stepper]:
    parent = QWidget()
    qtbot.addWidget(parent)
    made = Stepper(stage, "Nets long", parent, asked="none")
    made.resize(130, 68)
    made.show_words("1")
    parent.show()
    yield made
    parent.close()


def test_what_is_typed_has_the_room_of_the_steps_until_it_is_taken(stepper: Stepper) -> None:
    line = stepper.line
    assert line is not None
    line.setFocus(Qt.FocusReason.OtherFocusReason)
    QApplication.processEvents()
    narrow = line.width()
    QTest.keyClicks(line, "2 of 50 m and 1 of 25 m")
    assert line.width() > narrow + 60
    assert all(step.isHidden() for step in stepper.stops)
    told: list[str] = []
    stepper.typed.connect(told.append)
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert told == ["2 of 50 m and 1 of 25 m"]
    stepper.show_words("2")
    assert line.width() == narrow
    assert not any(step.isHidden() for step in stepper.stops)


def test_esc_drops_what_is_typed_and_the_steps_are_back(stepper: Stepper) -> None:
    line = stepper.line
    assert line is not None
    line.setFocus(Qt.FocusReason.OtherFocusReason)
    QApplication.processEvents()
    QTest.keyClicks(line, "12")
    QTest.keyClick(line, Qt.Key.Key_Escape)
    assert line.text() == "1"
    assert not any(step.isHidden() for step in stepper.stops)


def test_a_number_that_is_shown_anew_hides_no_step(stepper: Stepper) -> None:
    stepper.show_words("7")
    assert not any(step.isHidden() for step in stepper.stops)
