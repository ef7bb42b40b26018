"""How far apart warning signs hang is chosen under More."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QMenu
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.more_menu import SIGNS, MoreMenu
from pigmap.document.edits import change_setting
from pigmap.fence.cautions.distances import distances_of
from pigmap.fence.signs import SIGNS_APART_BY_PLACE
from pigmap.qt.window import Window
from tests.qt.window_farm import made_window


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path) as made:
        yield made


def _signs(window: Window) -> list[tuple[str, bool]]:
    menu = _menu(window)
    return [(action.text(), action.isChecked()) for action in menu.actions()]


def _menu(window: Window) -> QMenu:
    more = MoreMenu(window.stage, window, sheet=lambda: None, redo=lambda: None, map_only=lambda: None)
    return next(each for each in more.findChildren(QMenu) if each.title() == "Warning signs along paths")


def test_the_distances_of_print_can_be_chosen_each_with_its_place(window: Window) -> None:
    assert _signs(window) == [
        ("At most 50 m apart, as in France and in Cornwall", True),
        ("At most 90 m apart, as in Australia, New Zealand and the British trade", False),
        ("At most 100 m apart, as in Germany and Czechia", False),
    ]
    assert {each for each, _ in SIGNS} == set(SIGNS_APART_BY_PLACE.values())


def test_a_choice_is_kept_with_the_farm(window: Window) -> None:
    _menu(window).actions()[2].trigger()
    QApplication.processEvents()
    assert distances_of(window.stage.session.farm).signs_apart_m == 100.0
    assert _signs(window)[2] == ("At most 100 m apart, as in Germany and Czechia", True)


def test_another_distance_that_was_told_stands_first(window: Window) -> None:
    window.stage.session.do(change_setting("sign spacing", 30, unit="m")).result()
    assert _signs(window)[0] == ("At most 30 m apart", True)
    assert len(_signs(window)) == 4
