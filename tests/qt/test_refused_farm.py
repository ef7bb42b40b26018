"""A farm that cannot be opened: the sentence, and the ways back as buttons."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from pytestqt.qtbot import QtBot

from pigmap.errors import StoreError
from pigmap.qt import refused_farm
from pigmap.qt.refused_farm import RefusedFarm, ask_way_back
from pigmap.qt.starting import application, take_down
from pigmap.session import Session
from pigmap.session.backups import keep_backup
from pigmap.store.health import findings
from tests.session.test_backups import NOW
from tests.store.made import whole_farm


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "hill.gpkg"
    whole_farm(path)
    return path


def why(path: Path) -> StoreError:
    with pytest.raises(StoreError) as caught:
        Session.open(path)
    return caught.value


def cut(path: Path) -> StoreError:
    path.write_bytes(path.read_bytes()[:-5000])
    return why(path)


def words(window: RefusedFarm) -> list[str]:
    return [button.text() for button in window.buttons]


def test_a_file_that_is_cut_short_is_rescued_by_one_button(qtbot: QtBot, path: Path) -> None:
    reason = cut(path)
    before = path.read_bytes()
    window = RefusedFarm(path, reason)
    assert window.said.accessibleName().startswith("hill.gpkg is cut short: it has ")
    assert words(window) == ["Write a rescued copy and open it", "Open another farm", "Close"]
    window.buttons[0].click()
    assert not any(button.isEnabled() for button in window.buttons)
    qtbot.waitUntil(lambda: window.made is not None, timeout=10_000)
    assert window.made is not None
    assert window.made.path == path.with_name("hill, rescued.gpkg")
    assert "rows were rescued into hill, rescued.gpkg." in str(window.made.words)
    assert findings(window.made.path) == []
    assert path.read_bytes() == before
    window.close_down()
    take_down(window)


def test_the_newest_good_backup_is_another(qtbot: QtBot, path: Path) -> None:
    keep_backup(path, NOW)
    window = RefusedFarm(path, cut(path))
    assert words(window)[1].startswith("Open the newest backup: ")
    window.buttons[1].click()
    qtbot.waitUntil(lambda: window.made is not None, timeout=10_000)
    assert window.made is not None
    with Session.open(window.made.path) as session:
        assert session.farm.groups
    window.close_down()
    take_down(window)


def test_what_cannot_be_rescued_says_so_and_leaves_the_other_ways(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "notes.gpkg"
    path.write_text("not a farm", encoding="utf-8")
    window = RefusedFarm(path, why(path))
    window.buttons[0].click()
    qtbot.waitUntil(lambda: window.buttons[0].isEnabled(), timeout=10_000)
    assert window.said.accessibleName() == (
        "Nothing of a farm can be read from notes.gpkg. Go back to a backup or another copy."
    )
    window.close_down()
    take_down(window)


def test_a_file_that_is_not_there_has_no_copy_to_write(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "none.gpkg"
    window = RefusedFarm(path, why(path))
    assert words(window) == ["Open another farm", "Close"]
    take_down(window)


def test_another_farm_can_be_chosen_and_closing_gives_up(
    qtbot: QtBot, path: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    app = application()
    monkeypatch.setattr(refused_farm, "choose_file", lambda *_: str(tmp_path / "other.gpkg"))

    def press(at: int) -> None:
        (window,) = (each for each in app.topLevelWidgets() if isinstance(each, RefusedFarm))
        window.buttons[at].click()

    reason = cut(path)
    QTimer.singleShot(0, app, lambda: press(-2))
    made = ask_way_back(path, reason)
    assert made is not None
    assert made.path == tmp_path / "other.gpkg"
    QTimer.singleShot(0, app, lambda: press(-1))
    assert ask_way_back(path, reason) is None
