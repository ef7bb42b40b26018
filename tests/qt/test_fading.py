from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.drawing.layer import Layer
from pigmap.qt.motion import FADE_MS
from pigmap.qt.window import Window
from tests.qt.hand_clock import HandClock
from tests.qt.window_farm import made_window


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path, size=(1280, 800)) as made:
        made.map.settle()
        made.part("key")
        yield made


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> HandClock:
    return HandClock(monkeypatch)


def _seen(window: Window) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    image = window.map.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.width(), 4)
    return rows[..., :3].astype(np.float64)


def _settled(window: Window) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    window.map.settle()
    QApplication.processEvents()
    return _seen(window)


def test_another_tint_fades_in_over_what_was_shown(window: Window, clock: HandClock) -> None:
    before = _settled(window)
    window.stage.show_tint("stocking")
    first = _seen(window)
    clock.let_pass(FADE_MS * 0.3, window)
    middle = _seen(window)
    clock.let_pass(FADE_MS, window)
    after = _settled(window)
    whole = np.abs(after - before).mean()
    assert whole > 0.3
    assert np.abs(first - before).mean() < 0.1 * whole
    assert 0.1 * whole < np.abs(middle - after).mean() < 0.9 * whole
    assert 0.1 * whole < np.abs(middle - before).mean() < 0.9 * whole
    assert window.map.fading._before is None


def test_nothing_fades_off_screen(window: Window) -> None:
    window.stage.show_tint("rest")
    assert window.map.fading._before is None


def test_a_tint_chosen_while_one_fades_begins_from_what_is_seen(window: Window, clock: HandClock) -> None:
    window.stage.show_tint("rest")
    clock.let_pass(FADE_MS * 0.3, window)
    seen = _seen(window)
    window.stage.show_tint("ready")
    assert np.abs(_seen(window) - seen).mean() < 1.0


@pytest.mark.parametrize("moved", ["day", "map"])
def test_what_moves_while_a_tint_fades_ends_the_fading(window: Window, clock: HandClock, moved: str) -> None:
    window.stage.show_tint("rest")
    assert window.map.fading._before is not None
    if moved == "day":
        window.stage.show_day(window.stage.day + timedelta(days=1))
    else:
        window.map.pan_by(10, 0)
    assert window.map.fading._before is None


def test_lines_and_words_are_not_made_anew_for_another_tint(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    made: list[object] = []
    show = window.map.show_layers

    def shown(layers: Sequence[Layer], **how: bool) -> None:
        made.append(layers)
        show(layers, **how)

    monkeypatch.setattr(window.map, "show_layers", shown)
    window.stage.show_tint("rest")
    qtbot.wait(120)
    assert made == []
    window.stage.show_day(window.stage.day + timedelta(days=1))
    qtbot.waitUntil(lambda: len(made) == 1)
