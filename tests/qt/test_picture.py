from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from pigmap.errors import DisplayError, UsageError
from pigmap.qt.picture import write
from pigmap.session import Session
from pigmap.text import Text
from tests.qt.window_farm import TODAY, make_session


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    with make_session(tmp_path) as made:
        yield made


@pytest.fixture(autouse=True)
def _same_surroundings(monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep the settings for drawing off screen within one test."""
    for name in ("QT_QPA_PLATFORM", "QT_SCALE_FACTOR", "QT_SCALE_FACTOR_ROUNDING_POLICY"):
        monkeypatch.setenv(name, "offscreen" if name == "QT_QPA_PLATFORM" else "1")


def _write(session: Session, path: Path, **changed: Any) -> Text:
    given: dict[str, Any] = {"day": TODAY, "show": "", "theme": "light", "size": (1280, 800), "density": 1.0}
    return write(session, path, **{**given, **changed})


def test_the_whole_window_is_drawn(qtbot: QtBot, session: Session, tmp_path: Path) -> None:
    path = tmp_path / "window.png"
    _write(session, path)
    image = QImage(str(path))
    assert (image.width(), image.height()) == (1280, 800)
    colours = {image.pixel(x, y) for x in range(0, 1280, 5) for y in range(0, 800, 5)}
    assert len(colours) > 60


def test_the_same_picture_twice_is_the_same_bytes(qtbot: QtBot, session: Session, tmp_path: Path) -> None:
    first, second = tmp_path / "a.png", tmp_path / "b.png"
    _write(session, first)
    _write(session, second)
    assert first.read_bytes() == second.read_bytes()


def test_theme_and_day_show(qtbot: QtBot, session: Session, tmp_path: Path) -> None:
    pictures = {}
    for name, changed in {"light": {}, "dark": {"theme": "dark"}, "bright": {"theme": "bright"}}.items():
        path = tmp_path / f"{name}.png"
        _write(session, path, **changed)
        pictures[name] = QImage(str(path))
    corner = [pictures[name].pixelColor(4, 70).lightness() for name in ("light", "dark")]
    assert corner[0] > 200
    assert corner[1] < 60
    assert pictures["light"] != pictures["bright"]


@pytest.mark.parametrize("panel", ["groups", "season", "key", "verbs", "tray", "data", "start", "history", "moves"])
def test_one_panel_alone_is_smaller_than_the_window(qtbot: QtBot, session: Session, tmp_path: Path, panel: str) -> None:
    path = tmp_path / "panel.png"
    assert not _write(session, path, panel=panel)
    image = QImage(str(path))
    assert 0 < image.width() * image.height() < 1280 * 800


def test_a_panel_that_shows_nothing_is_told_and_the_window_drawn(
    qtbot: QtBot, session: Session, tmp_path: Path
) -> None:
    said = _write(session, tmp_path / "card.png", panel="card")
    assert str(said) == "The panel card has nothing to show now, so the whole window is drawn."
    assert QImage(str(tmp_path / "card.png")).width() == 1280


@pytest.mark.parametrize(
    ("changed", "words", "remedy"),
    [
        ({"size": (20, 20)}, "A window of 20 by 20 pixels cannot be drawn.", "such as 1600x1000"),
        ({"size": (99999, 800)}, "A window of 99999 by 800 pixels", "from 320x240 to 7680x4320"),
        ({"density": 0.0}, "A density of 0 cannot be drawn.", "from 0.5 to 4"),
        ({"density": float("nan")}, "A density of nan cannot be drawn.", "from 0.5 to 4"),
        ({"theme": "pink"}, "There is no theme called pink.", "light, dark, bright"),
        ({"show": "mud"}, "There is no way to show the ground called mud.", "rest-and-rooting"),
        ({"panel": "attic"}, "There is no panel called attic.", "season"),
    ],
)
def test_what_cannot_be_drawn_is_said_with_a_remedy(
    session: Session, tmp_path: Path, changed: dict[str, Any], words: str, remedy: str
) -> None:
    with pytest.raises(UsageError) as caught:
        _write(session, tmp_path / "w.png", **changed)
    assert words in str(caught.value.message)
    assert remedy in str(caught.value.remedy)
    assert not (tmp_path / "w.png").exists()


def test_a_file_of_another_kind_is_refused(session: Session, tmp_path: Path) -> None:
    with pytest.raises(UsageError) as caught:
        _write(session, tmp_path / "w.jpg")
    assert str(caught.value) == "w.jpg does not end in .png. Name a .png file for the picture."


def test_a_folder_that_is_not_there_is_named(qtbot: QtBot, session: Session, tmp_path: Path) -> None:
    with pytest.raises(DisplayError) as caught:
        _write(session, tmp_path / "gone" / "w.png")
    assert "gone is not there, so w.png cannot be written." in str(caught.value.message)
    assert str(caught.value.remedy) == "Make the folder, or name another one."


def test_a_place_that_takes_no_file_is_told(qtbot: QtBot, session: Session, tmp_path: Path) -> None:
    (tmp_path / "w.png").mkdir()
    with pytest.raises(DisplayError) as caught:
        _write(session, tmp_path / "w.png")
    assert "w.png cannot be written into" in str(caught.value.message)
    assert "Name another folder" in str(caught.value.remedy)
    assert list(tmp_path.glob(".w.*")) == []
