from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Stage
from pigmap.qt.stepper import Stepper
from tests.qt.window_farm import made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def tray(stage: Stage) -> Iterator[QWidget]:
    with made_panel(stage, "tray", (292, 900)) as made:
        stage.take_up("place")
        yield made


def button(tray: QWidget, words: str) -> WordButton:
    return next(each for each in tray.findChildren(WordButton) if each.text() == words)


def test_free_corners_stay_on_until_whole_nets_are_pressed(stage: Stage, tray: QWidget) -> None:
    long = tray.findChildren(Stepper)[0]
    assert button(tray, "Whole nets").isChecked()
    assert not long.isHidden()
    button(tray, "Free corners").click()
    assert stage.placing.choice.free
    assert long.isHidden()
    assert button(tray, "Fill a row").isHidden()
    stage.take_up("pick")
    stage.take_up("place")
    assert button(tray, "Free corners").isChecked()
    button(tray, "Whole nets").click()
    assert not stage.placing.choice.free
    assert not long.isHidden()


def test_the_key_turns_the_switch_too(stage: Stage, tray: QWidget) -> None:
    stage.placing.choose(free=True)
    assert button(tray, "Free corners").isChecked()
    assert not button(tray, "Whole nets").isChecked()


def test_row_and_again_ask_for_the_next_click(stage: Stage, tray: QWidget) -> None:
    asked: list[str] = []
    stage.placing.asked.connect(asked.append)
    button(tray, "Fill a row").click()
    button(tray, "Place again").click()
    assert asked == ["row", "again"]


def test_words_name_their_keys(tray: QWidget) -> None:
    spoken = [button(tray, words).accessibleName() for words in ("Free corners", "Fill a row", "Place again")]
    assert spoken == [
        "Free corners, set one by one (K)",
        "Fill a row from where you click (R)",
        "Place again the old paddock that you click (A)",
    ]


def test_no_two_parts_lie_on_one_another(stage: Stage, tray: QWidget) -> None:
    for free in (False, True):
        stage.placing.choose(free=free)
        shown = [each for each in tray.findChildren(WordButton) if not each.isHidden()]
        boxes = [each.geometry() for each in shown if each.parentWidget() is shown[0].parentWidget()]
        for at, box in enumerate(boxes):
            assert not any(box.intersects(other) for other in boxes[at + 1 :])
