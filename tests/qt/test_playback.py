from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.play_button import PlayButton
from pigmap.qt import motion, playback
from pigmap.qt.stage import Stage
from pigmap.qt.window import Window
from pigmap.records import Edit, add
from pigmap.text import Text
from tests.qt.window_farm import TODAY, made_stage, made_window


@pytest.fixture(autouse=True)
def fast(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(motion, "is_allowed", lambda: True)


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        monkeypatch.setattr(playback, "STEP_MS", 1)
        made.playback._timer.setInterval(1)
        yield made
        made.playback.stop()


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path) as made:
        made.stage.playback._timer.setInterval(60_000)  # it stays where it began
        yield made
        made.stage.playback.stop()


def test_it_plays_from_the_first_day_of_the_records_a_week_a_step_until_today(stage: Stage, qtbot: QtBot) -> None:
    days: list[date] = []
    stage.day_changed.connect(days.append)
    first = min(stay.in_on for stay in stage.session.farm.stays.values())
    with qtbot.waitSignal(stage.playback.changed, check_params_cb=lambda on: not on, timeout=5000):
        stage.playback.toggle()
        assert stage.day == first
        assert stage.playback.running
    assert days[0] == first
    assert days[-1] == TODAY
    assert all((later - earlier).days == 7 for earlier, later in pairwise(days[:-1]))
    assert not stage.playback.running


def test_it_goes_two_years_back_at_most(stage: Stage) -> None:
    stay = stage.session.farm.stays["group0s0"]
    old = replace(stay, uid="old", in_on=TODAY - timedelta(days=2000), out_on=TODAY - timedelta(days=1990))
    stage.session.do(Edit(Text("Made for a test."), lambda farm: [add(old)])).result()
    assert (TODAY - stage.playback.first_day).days == playback.PAST_DAYS


def test_it_goes_on_from_a_day_of_the_past_and_begins_anew_from_a_day_to_come(stage: Stage) -> None:
    stage.show_day(TODAY - timedelta(days=8))
    stage.playback.toggle()
    assert stage.day == TODAY - timedelta(days=1)
    stage.playback.toggle()
    assert not stage.playback.running
    stage.show_day(TODAY + timedelta(days=5))
    stage.playback.toggle()
    assert stage.day == stage.playback.first_day


def test_where_nobody_wants_motion_each_press_is_one_step(stage: Stage, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(motion, "is_allowed", lambda: False)
    stage.playback.toggle()
    assert stage.day == stage.playback.first_day
    assert not stage.playback.running
    stage.playback.toggle()
    assert stage.day == stage.playback.first_day + timedelta(days=7)


def test_another_day_that_is_chosen_stays(stage: Stage, qtbot: QtBot) -> None:
    stage.playback.toggle()
    stage.show_day(TODAY - timedelta(days=3))
    qtbot.waitUntil(lambda: not stage.playback.running)
    assert stage.day == TODAY - timedelta(days=3)


def test_a_step_waits_until_the_map_shows_the_one_before(stage: Stage, qtbot: QtBot) -> None:
    stage.playback.shown = lambda: False
    stage.playback.toggle()
    first = stage.day
    qtbot.wait(60)
    assert stage.day == first
    stage.playback.shown = lambda: True
    qtbot.waitUntil(lambda: stage.day > first)


def test_the_map_says_whether_lines_and_words_of_the_day_are_there(window: Window) -> None:
    stage = window.stage
    window.map.settle()
    assert stage.playback.shown()
    stage.show_day(TODAY - timedelta(days=7))
    assert not stage.playback.shown()  # lines follow the colours
    window.map.settle()
    assert stage.playback.shown()


def _play(window: Window) -> PlayButton:
    (button,) = window.findChildren(PlayButton)
    return button


def test_the_button_lies_by_the_flag_plays_and_stops(window: Window) -> None:
    button = _play(window)
    assert button.isVisible()
    assert button.accessibleName() == "Play the past two years (Y)"
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    assert window.stage.playback.running
    assert button.accessibleName() == "Stop (Y)"
    QTest.qWait(600)  # a second press at once would be taken for a double click
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    assert not window.stage.playback.running


def test_any_click_and_esc_stop_it(window: Window) -> None:
    stage = window.stage
    stage.playback.toggle()
    QTest.mouseClick(window.map, Qt.MouseButton.LeftButton, pos=window.map.rect().center())
    assert not stage.playback.running
    stage.playback.toggle()
    picked = stage.picked
    QTest.keyClick(window, Qt.Key.Key_Escape)
    assert not stage.playback.running
    assert stage.picked == picked


def test_y_plays_and_stops(window: Window) -> None:
    QTest.keyClick(window, Qt.Key.Key_Y)
    assert window.stage.playback.running
    QTest.keyClick(window, Qt.Key.Key_Y)
    assert not window.stage.playback.running


def test_cards_of_groups_say_what_to_carry_again_once_it_stopped(window: Window, qtbot: QtBot) -> None:
    column = window.panel("groups")
    assert column is not None
    qtbot.waitUntil(lambda: not window.stage.coming_up)
    before = [card.accessibleName() for card in column._cards]  # type: ignore[attr-defined]
    assert any("carry" in words for words in before)
    window.stage.playback.toggle()
    assert not any("carry" in card.accessibleName() for card in column._cards)  # type: ignore[attr-defined]
    window.stage.playback.stop()
    window.stage.show_day(TODAY)
    QApplication.processEvents()
    assert [card.accessibleName() for card in column._cards] == before  # type: ignore[attr-defined]


def test_a_farm_without_a_past_has_nothing_to_play(qtbot: QtBot, tmp_path: Path) -> None:
    with made_window(tmp_path, empty=True) as window:
        assert not _play(window).isVisible()
        QTest.keyClick(window, Qt.Key.Key_Y)
        assert not window.stage.playback.running
        said = window.stage.words(window.stage.notices[-1].text)
        assert said == "There is no past to play yet: no group was put in a paddock."


@pytest.mark.parametrize("allowed", [True, False])
def test_less_than_a_week_of_past_is_said_and_not_played(
    stage: Stage, monkeypatch: pytest.MonkeyPatch, allowed: bool
) -> None:
    monkeypatch.setattr(motion, "is_allowed", lambda: allowed)
    first = min(stay.in_on for stay in stage.session.farm.stays.values())
    stage.today = first + timedelta(days=6)
    before = stage.day
    stage.playback.toggle()
    assert not stage.playback.running
    assert stage.day == before
    said = stage.words(stage.notices[-1].text)
    assert said.startswith("There is not a week of past to play yet: the first stay begins on ")
    assert str(first.day) in said


def test_each_day_that_is_played_is_whole_at_once(window: Window) -> None:
    window.map.settle()
    window.stage.playback.toggle()
    assert window.stage.day < TODAY
    assert window.map.complete
    assert window.stage.playback.shown()
