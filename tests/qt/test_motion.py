from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.key import KeyPanel
from pigmap.qt import motion
from pigmap.qt.motion import GLIDE_MS, MESSAGE_OUT_MS, PANEL_MS, eased
from pigmap.qt.stage import Picked
from pigmap.qt.window import Window
from pigmap.session.personal import Personal, save_personal
from pigmap.text import Text
from tests.qt.hand_clock import HandClock
from tests.qt.window_farm import made_window

PADDOCK = Picked("paddocks", "group0p3")
PLACES = 6
"""Places after the point to which two views are alike [m]."""


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path, size=(1280, 800)) as made:
        yield made


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> HandClock:
    return HandClock(monkeypatch)


def _scale(window: Window) -> float:
    return window.map.view.metres_per_unit


def _turn(window: Window, at: QPointF, notches: float = 1.0) -> None:
    none, plain = Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier
    angle = QPoint(0, round(120 * notches))
    whole = window.map.mapToGlobal(at)
    QApplication.sendEvent(
        window.map, QWheelEvent(at, whole, QPoint(), angle, none, plain, Qt.ScrollPhase.NoScrollPhase, False)
    )


def _press(window: Window, at: QPointF) -> None:
    left = Qt.MouseButton.LeftButton
    for kind, held in ((QEvent.Type.MouseButtonPress, left), (QEvent.Type.MouseButtonRelease, Qt.MouseButton.NoButton)):
        event = QMouseEvent(kind, at, window.map.mapToGlobal(at), left, held, Qt.KeyboardModifier.NoModifier)
        QApplication.sendEvent(window.map, event)


def test_motion_is_fast_at_first_and_never_goes_back() -> None:
    way = [eased(share / 20) for share in range(-1, 23)]
    assert way == sorted(way)
    assert (way[0], way[-1]) == (0.0, 1.0)
    assert eased(0.25) > 0.5


def test_nothing_moves_off_screen_or_where_the_person_chose_none(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert not motion.is_wanted()
    monkeypatch.setattr(motion, "is_watched", lambda: True)
    assert motion.is_wanted()
    save_personal(Personal(motion="none"))
    assert not motion.is_wanted()
    before = _scale(window)
    QTest.keyClick(window.map, Qt.Key.Key_Plus)
    assert _scale(window) == pytest.approx(before / 1.25)


def test_nothing_moves_where_the_computer_asks_for_none(window: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(motion, "is_watched", lambda: True)
    monkeypatch.setattr(QApplication.style(), "styleHint", lambda *_: 0)
    assert not motion.is_wanted()


def test_steps_of_the_zoom_add_up_and_end_where_they_would_without_motion(
    window: Window, clock: HandClock, qtbot: QtBot
) -> None:
    before = _scale(window)
    QTest.keyClick(window.map, Qt.Key.Key_Plus)
    clock.let_pass(40, window)
    assert before / 1.25 < _scale(window) < before
    QTest.keyClick(window.map, Qt.Key.Key_Plus)
    clock.let_pass(GLIDE_MS, window)
    assert _scale(window) == pytest.approx(before / 1.25**2)
    qtbot.waitUntil(lambda: window.map.complete)


def test_the_ground_under_the_pointer_stays_under_it_while_the_wheel_zooms(window: Window, clock: HandClock) -> None:
    at = QPointF(300, 200)
    ground = window.map.view.to_ground(at.x(), at.y())
    _turn(window, at)
    for _ in range(4):
        clock.let_pass(30, window)
        assert window.map.view.to_ground(at.x(), at.y()) == pytest.approx(ground, abs=10**-PLACES)


def test_a_finger_on_a_pad_leads_the_scale_itself(window: Window, clock: HandClock) -> None:
    before = _scale(window)
    _turn(window, QPointF(300, 200), 0.25)
    assert _scale(window) == pytest.approx(before / 1.25**0.25)


def test_arrows_end_as_far_off_as_they_would_without_motion(window: Window, clock: HandClock) -> None:
    window.map.zoom_by(4.0)
    before, step = window.map.view.centre_x_m, _scale(window)
    for _ in range(3):
        QTest.keyClick(window.map, Qt.Key.Key_Right)
        clock.let_pass(30, window)
    assert window.map.view.centre_x_m < before + 240 * step
    clock.let_pass(GLIDE_MS, window)
    assert window.map.view.centre_x_m == pytest.approx(before + 240 * step)


def test_a_press_on_the_way_stops_the_map_and_paints_it_there(window: Window, clock: HandClock, qtbot: QtBot) -> None:
    QTest.keyClick(window.map, Qt.Key.Key_Plus)
    clock.let_pass(30, window)
    seen = window.map.view
    _press(window, QPointF(20, 200))
    clock.let_pass(GLIDE_MS, window)
    assert window.map.view == seen
    qtbot.waitUntil(lambda: window.map.complete)


def test_the_map_stays_where_something_else_brings_it_on_the_way(window: Window, clock: HandClock) -> None:
    QTest.keyClick(window.map, Qt.Key.Key_Plus)
    clock.let_pass(30, window)
    window.map.look_at((0.0, 0.0, 40.0, 40.0))
    there = window.map.view
    clock.let_pass(GLIDE_MS, window)
    assert window.map.view == there


def test_the_whole_farm_that_is_glided_to_stays_whole_in_another_size(window: Window, clock: HandClock) -> None:
    whole = _scale(window)
    window.map.zoom_by(4.0)
    QTest.keyClick(window.map, Qt.Key.Key_Z)
    clock.let_pass(GLIDE_MS, window)
    assert _scale(window) == pytest.approx(whole)
    window.resize(1600, 1000)
    QApplication.processEvents()
    assert _scale(window) < whole


def test_a_card_slides_to_where_it_belongs_also_when_it_is_laid_out_on_the_way(
    window: Window, clock: HandClock
) -> None:
    window.stage.pick(PADDOCK)
    card = window.part("card")
    assert card is not None
    slid = card.x()
    window.resize(1290, 810)
    clock.let_pass(PANEL_MS, window)
    there = card.geometry()
    assert slid > there.x() - 10
    window._lay_over_map()
    assert card.geometry() == there


@pytest.mark.parametrize(("size", "below"), [((1280, 800), True), ((900, 700), False)])
def test_the_key_slides_open_from_where_its_button_lies(
    qtbot: QtBot, tmp_path: Path, clock: HandClock, size: tuple[int, int], below: bool
) -> None:
    with made_window(tmp_path, size=size) as window:
        window.make_rest()
        key = window.part("key")
        assert isinstance(key, KeyPanel)
        low = key.height()
        key._fold.click()
        QApplication.processEvents()
        begun = key.y()
        assert key.height() > low
        clock.let_pass(PANEL_MS, window)
        there = key.geometry()
        assert (begun > there.y()) == below
        window.stage.show_tint("rest")
        QApplication.processEvents()
        assert key.y() >= there.y() - 1  # another tint is no other key: nothing slides again
        key._fold.click()
        QApplication.processEvents()
        assert key.height() == low


def test_a_key_that_is_open_from_the_first_does_not_slide(qtbot: QtBot, tmp_path: Path, clock: HandClock) -> None:
    with made_window(tmp_path) as window:
        window.make_rest()
        key = window.part("key")
        assert isinstance(key, KeyPanel)
        assert key.is_open
        there = key.geometry()
        clock.let_pass(PANEL_MS, window)
        assert key.geometry() == there


@pytest.mark.parametrize("verb", ["place", "check", "moves"])
def test_what_a_verb_brings_slides_into_the_column(window: Window, clock: HandClock, verb: str) -> None:
    window.stage.take_up(verb)
    panel = window._column()
    assert panel is not None
    assert panel.x() < 0
    QApplication.processEvents()
    clock.let_pass(PANEL_MS, window)
    assert panel.x() == 0


def test_a_plate_has_the_keys_while_it_still_slides(window: Window, clock: HandClock) -> None:
    window.stage.plate_asked.emit("messages")
    plate = window.panel("messages")
    assert plate is not None
    focused = QApplication.focusWidget()
    assert focused is not None
    assert plate.isAncestorOf(focused)
    begun = plate.x()
    clock.let_pass(PANEL_MS, window)
    assert plate.x() < begun


def _going(window: Window) -> list[QWidget]:
    return [each for each in window.map.findChildren(QWidget) if type(each).__name__ == "_Going"]


def test_a_message_is_gone_at_once_and_only_its_picture_fades(window: Window, clock: HandClock, qtbot: QtBot) -> None:
    bar = window.part("message")
    assert bar is not None
    window.stage.notice(Text("Long Field 9 placed."), "refused")
    clock.let_pass(PANEL_MS, window)
    bar._leave()  # type: ignore[attr-defined]
    assert bar.isHidden()
    assert len(_going(window)) == 1
    clock.let_pass(MESSAGE_OUT_MS, window)
    qtbot.waitUntil(lambda: not _going(window))


def test_a_window_can_be_closed_while_all_of_it_moves(window: Window, clock: HandClock) -> None:
    window.stage.notice(Text("Long Field 9 placed."))
    window.stage.pick(PADDOCK)
    window.stage.plate_asked.emit("messages")
    QTest.keyClick(window.map, Qt.Key.Key_Plus)
    window.stage.notice(Text("Long Field 9 put back."))
    assert window.close()
