"""Every control that takes the keys has a name, and no two in one part share one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from pigmap.qt.stage import Picked
from pigmap.qt.window import Window
from tests.qt.window_farm import made_window

VERBS = ("pick", "draw", "place", "check", "measure", "moves", "stand", "before", "pin")
PLATES = ("find", "history", "messages", "about", "manual", "stock", "books")
TABLES = ("groups", "fields", "paddocks", "keep_outs", "places", "ways", "checks")


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path) as made:
        yield made


def _named(window: Window) -> Counter[tuple[str, QWidget | None]]:
    """Return the names of the controls that Tab reaches, with what each lies in."""
    QApplication.processEvents()
    window.map.settle()
    found: Counter[tuple[str, QWidget | None]] = Counter()
    for widget in window.findChildren(QWidget):
        if widget.isVisible() and widget.isEnabled() and widget.focusPolicy() & Qt.FocusPolicy.TabFocus:
            text = getattr(widget, "text", None)
            name = widget.accessibleName() or (str(text()) if callable(text) else "")
            assert name.strip(), f"{type(widget).__name__} in {type(widget.parentWidget()).__name__} has no name"
            found[name, widget.parentWidget()] += 1
    return found


def _no_two_alike(window: Window) -> None:
    assert [name for (name, _), count in _named(window).items() if count > 1] == []


@pytest.mark.parametrize("verb", VERBS)
def test_with_each_verb(window: Window, verb: str) -> None:
    window.stage.take_up(verb)
    _no_two_alike(window)


def test_on_each_card(window: Window) -> None:
    for table in TABLES:
        for uid in list(window.stage.session.farm.rows(table))[:1]:
            window.stage.pick(Picked(table, uid))
            _no_two_alike(window)


@pytest.mark.parametrize("plate", PLATES)
def test_on_each_plate(window: Window, plate: str) -> None:
    window.stage.plate_asked.emit(plate)
    shown = window.panel(plate)
    assert shown is not None
    assert shown.isVisible()
    _no_two_alike(window)
