from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.key import KeyPanel
from pigmap.qt.over_map import tool_plates
from pigmap.qt.paintwork import SHADOW
from pigmap.qt.stage import Picked
from pigmap.text import Text
from tests.qt.window_farm import made_window

LONG = Text("Long Field 43 placed. Carry 4 nets. Something that takes a second line as well, since it is so long.")
BARE = (SHADOW, SHADOW, -SHADOW, -SHADOW)


@pytest.mark.parametrize("text_scale", [1.0, 1.5])
@pytest.mark.parametrize("size", [(900, 700), (1024, 600), (1280, 800), (1600, 1000)])
def test_a_message_of_several_lines_lies_on_neither_key_nor_card(
    qtbot: QtBot, tmp_path: Path, size: tuple[int, int], text_scale: float
) -> None:
    with made_window(tmp_path, size=size, text_scale=text_scale) as window:
        window.stage.pick(Picked("groups", "group1"))
        for words in (Text("Short."), LONG):
            window.stage.notice(words, "care")
            QApplication.processEvents()
            message, key, card = (window.panel(name) for name in ("message", "key", "card"))
            assert message is not None
            assert message.isVisible()
            for other in (key, card):
                if other is not None and other.isVisible():
                    assert not message.geometry().intersects(other.geometry().adjusted(*BARE))
            assert window.map.rect().contains(message.geometry())


@pytest.mark.parametrize(("high", "text_scale"), [(1000, 1.0), (1000, 1.5), (860, 1.5), (1000, 0.9)])
def test_the_key_is_never_cut_but_a_button_where_it_has_no_room(
    qtbot: QtBot, tmp_path: Path, high: int, text_scale: float
) -> None:
    with made_window(tmp_path, size=(1600, high), text_scale=text_scale) as window:
        key = window.panel("key")
        window.resize(1601, high)  # it is laid out with what is made by now
        QApplication.processEvents()
        assert isinstance(key, KeyPanel)
        assert key.height() >= key.sizeHint().height()
        assert key.is_open is (high == 1000)


@pytest.mark.parametrize("verb", ["draw", "stand", "here"])
@pytest.mark.parametrize("size", [(900, 700), (1024, 600), (1280, 800)])
def test_the_plate_of_a_tool_has_neither_key_nor_message_over_it(
    qtbot: QtBot, tmp_path: Path, size: tuple[int, int], verb: str
) -> None:
    with made_window(tmp_path, size=size) as window:
        window.panel("key")
        window.panel("message")
        window.stage.notice(LONG, "care")
        window.stage.take_up(verb)
        QApplication.processEvents()
        (plate,) = tool_plates(window.map)
        for name in ("key", "message"):
            panel = window.panel(name)
            assert panel is not None
            assert not (panel.isVisible() and panel.geometry().adjusted(*BARE).intersects(plate.geometry()))
        window.stage.take_up("pick")
        QApplication.processEvents()
        key = window.panel("key")
        assert key is not None
        assert key.isVisible()
