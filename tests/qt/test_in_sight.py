from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QRectF
from pytestqt.qtbot import QtBot

from pigmap.qt.in_sight import ROUND_PX, picked_box
from pigmap.qt.stage import Picked
from pigmap.qt.window import Window
from tests.qt.window_farm import made_window

PADDOCK = Picked("paddocks", "group0p3")
FIELD = Picked("fields", "field")


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path, size=(1280, 800)) as made:
        yield made


def _picked_box(window: Window) -> QRectF:
    box = picked_box(window.map, window.stage)
    assert box is not None
    return box


def _aim_at_card(window: Window, picked: Picked) -> QRectF:
    """Lay what is to be picked where its card will come, and return that place."""
    window.stage.pick(picked)
    card = window.part("card")
    assert card is not None
    cover = QRectF(card.geometry())
    window.map.zoom_by(0.25)
    away = _picked_box(window).center() - cover.center()
    window.stage.pick(None)
    window.map.pan_by(round(away.x()), round(away.y()))
    return cover


def test_what_is_picked_does_not_lie_under_its_card(window: Window, qtbot: QtBot) -> None:
    cover = _aim_at_card(window, PADDOCK)
    window.stage.pick(PADDOCK)
    assert cover.contains(_picked_box(window).center())
    qtbot.waitUntil(lambda: _picked_box(window).right() + ROUND_PX <= cover.left() + 1, timeout=2000)
    assert _picked_box(window).right() + ROUND_PX > cover.left() - 2, "the map moves by as little as it takes"


def test_the_map_rests_where_what_is_picked_is_in_sight_or_too_large(window: Window, qtbot: QtBot) -> None:
    window.map.show_whole()
    for picked in (FIELD, None):
        before = window.map.view
        window.stage.pick(picked)
        qtbot.wait(50)
        assert window.map.view == before


def test_nothing_moves_from_under_the_pointer_while_paddocks_are_placed(window: Window, qtbot: QtBot) -> None:
    cover = _aim_at_card(window, PADDOCK)
    window.stage.take_up("place")
    before = window.map.view
    window.stage.pick(PADDOCK)
    qtbot.wait(50)
    assert window.map.view == before
    assert cover.contains(_picked_box(window).center())
