from __future__ import annotations

from pathlib import Path

from pytestqt.qtbot import QtBot

from pigmap.document.edits import link_image
from tests.qt.window_farm import made_window


def test_an_image_that_has_moved_is_said_in_the_window_and_the_map_goes_on(qtbot: QtBot, tmp_path: Path) -> None:
    with made_window(tmp_path) as window:
        stage = window.stage
        said: list[str] = []
        stage.noticed.connect(lambda notice: said.append(str(notice.text)))
        stage.session.do(link_image("Aerial 2025", "images/aerial.tif")).result()
        qtbot.waitUntil(lambda: bool(said), timeout=5000)
        path = stage.session.path.resolve().parent / "images" / "aerial.tif"
        assert said == [f"Aerial 2025 has moved: no image is at {path}. Put it back, or show where it is."]
