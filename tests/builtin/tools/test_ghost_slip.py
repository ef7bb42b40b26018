from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.tools.ghost_slip import GhostSlip
from pigmap.drawing.layer import Layer
from pigmap.qt.motion import SNAP_MS
from pigmap.qt.tool import Host, Pointer
from tests.qt.hand_clock import HandClock

LAYERS = cast("tuple[Layer, ...]", ("ghost",))


class Shown:
    def __init__(self, qtbot: QtBot) -> None:
        widget = QWidget()
        qtbot.addWidget(widget)
        self.widget = widget
        self.at: list[float] = []
        host: Any = SimpleNamespace(widget=widget, carry=lambda _, by: self.at.append(by[0]))
        self.slip = GhostSlip(cast("Host", host))

    def follow(self, pointer: float, drawn: float = 0.0) -> None:
        where = Pointer(pointer, 0.0, pointer, 0.0, 1.0, Qt.KeyboardModifier.NoModifier)
        self.slip.follow((pointer + drawn, 0.0), where)
        self.slip.carry(LAYERS, (pointer + drawn, 0.0))


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> HandClock:
    return HandClock(monkeypatch)


@pytest.fixture
def shown(qtbot: QtBot, clock: HandClock) -> Shown:
    return Shown(qtbot)


def test_a_ghost_that_only_follows_the_pointer_is_never_behind_it(shown: Shown) -> None:
    for pointer in (0.0, 50.0, 900.0):
        shown.follow(pointer)
    assert shown.at == [0.0, 50.0, 900.0]


def test_a_ghost_drawn_to_a_side_goes_there_from_the_pointer_and_rests(shown: Shown, clock: HandClock) -> None:
    shown.follow(100.0)
    shown.follow(101.0, 20.0)
    assert shown.at[-1] == pytest.approx(101.0)
    clock.let_pass(SNAP_MS, shown.widget)
    assert shown.at[-1] == pytest.approx(121.0)
    assert shown.at == sorted(shown.at)


def test_a_ghost_put_somewhere_by_keys_is_there_at_once(shown: Shown, clock: HandClock) -> None:
    shown.follow(100.0)
    shown.follow(101.0, 20.0)
    shown.slip.carry(LAYERS, (500.0, 0.0))
    assert shown.at[-1] == 500.0
    clock.let_pass(SNAP_MS, shown.widget)
    assert shown.at[-1] == 500.0


def test_a_ghost_that_was_put_away_does_not_come_back(shown: Shown, clock: HandClock) -> None:
    shown.follow(100.0)
    shown.follow(101.0, 20.0)
    shown.slip.close()
    seen = len(shown.at)
    clock.let_pass(SNAP_MS, shown.widget)
    assert len(shown.at) == seen


def test_off_screen_a_ghost_is_where_it_is(qtbot: QtBot) -> None:
    shown = Shown(qtbot)
    shown.follow(100.0)
    shown.follow(101.0, 20.0)
    assert shown.at == [100.0, 121.0]
