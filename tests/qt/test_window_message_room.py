from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.key import KeyPanel
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
