from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QPushButton, QScrollArea, QWidget
from pytestqt.qtbot import QtBot

from pigmap.qt.focus_ring import FocusRing
from pigmap.qt.stage import Stage
from tests.qt.window_farm import drop, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path, empty=True) as made:
        yield made


def test_the_ring_goes_along_with_what_is_scrolled_and_ends_where_that_ends(stage: Stage) -> None:
    window = QWidget()
    window.resize(300, 300)
    scroll = QScrollArea(window)
    scroll.setGeometry(0, 50, 200, 100)
    inside = QWidget()
    inside.resize(150, 400)
    scroll.setWidget(inside)
    button = QPushButton("Here", inside)
    button.setGeometry(20, 20, 80, 40)
    ring = FocusRing(stage, window)
    window.show()
    ring.follow(None, button)
    view = scroll.viewport()
    top = view.mapTo(window, view.rect().topLeft()).y()
    assert ring.geometry().top() == top + 20 - 5
    scroll.verticalScrollBar().setValue(30)
    assert ring.geometry().top() == top
    assert ring.geometry().bottom() == top + 20 - 30 + 40 + 5 - 1
    scroll.verticalScrollBar().setValue(200)
    assert not ring.isVisible()
    scroll.verticalScrollBar().setValue(0)
    assert ring.isVisible()
    drop(window)
