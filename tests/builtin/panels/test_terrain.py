from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.terrain import TerrainImages
from pigmap.qt.following import undo
from pigmap.qt.window import Window
from tests.imagery.test_terrain import made, plane
from tests.qt.window_farm import made_window


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with made_window(tmp_path) as made_one:
        yield made_one


def opened(window: Window) -> TerrainImages:
    window.stage.plate_asked.emit("terrain")
    plate = window.panel("terrain")
    assert isinstance(plate, TerrainImages)
    assert plate.isVisible()
    return plate


def names(window: Window) -> list[str]:
    return [row.name for row in window.stage.session.farm.terrains.values()]


def test_a_terrain_image_is_linked_from_a_file_and_taken_away_again(
    window: Window, qtbot: QtBot, tmp_path: Path
) -> None:
    path = made(tmp_path / "hill.tif", plane(9.0))
    plate = opened(window)
    assert not plate.show_slope.isVisible()
    plate.choose_file = lambda parent, title, kinds: str(path)
    plate.bring.click()
    qtbot.waitUntil(lambda: names(window) == ["hill"], timeout=5000)
    assert plate.said.text().startswith("Its heights lie about 2 m apart.")
    assert [row.away.accessibleName() for row in plate.rows] == ["Take hill away"]
    plate.show_slope.click()
    assert window.stage.tint == "slope"
    plate.rows[0].away.click()
    qtbot.waitUntil(lambda: names(window) == [], timeout=5000)
    undo(window.stage)
    qtbot.waitUntil(lambda: names(window) == ["hill"], timeout=5000)


def test_a_picture_is_no_terrain_image(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    path = made(tmp_path / "photo.tif", np.zeros((3, 5, 5), np.uint8))
    plate = opened(window)
    plate.take_file(path)
    qtbot.waitUntil(plate.bring.isEnabled, timeout=5000)
    assert plate.said.text() == (
        "photo.tif is a picture of 3 colours, not heights. "
        "Give the terrain image itself, which has one number for each point: its height."
    )
    assert names(window) == []
