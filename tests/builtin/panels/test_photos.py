"""The plate of photos: taken in, listed, looked at, taken away and back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.photos import Photos
from pigmap.qt.stage import Stage
from pigmap.session.photos import folder_beside, whole_of
from tests.qt.window_farm import made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def plate(stage: Stage) -> Iterator[Photos]:
    with made_panel(stage, "photos", (460, 900)) as made:
        assert isinstance(made, Photos)
        made.open_plate()
        yield made
        made.close_down()


@pytest.fixture
def files(tmp_path: Path) -> list[Path]:
    """Return two photos."""
    paths = [tmp_path / "red.jpg", tmp_path / "blue.jpg"]
    for path, colour in zip(paths, ("red", "blue"), strict=True):
        Image.new("RGB", (900, 600), colour).save(path)
    return paths


def test_without_any_there_is_only_the_button(plate: Photos) -> None:
    assert plate.first() is plate.add
    assert plate.list.isHidden()
    assert plate.take_away.isHidden()


def test_photos_are_taken_in_listed_and_seen_large(
    stage: Stage, plate: Photos, files: list[Path], qtbot: QtBot
) -> None:
    plate.bring_in(files)
    qtbot.waitUntil(lambda: plate.list.count() == 2, timeout=8000)
    assert stage.words(stage.notices[-1].text) == "2 photos added."
    assert not plate.list.item(0).icon().isNull()
    assert "place not known" in plate.list.item(0).text()
    assert plate.large.pixmap().width() == round(340 * plate.devicePixelRatioF())
    assert plate.add.isEnabled()


def test_the_plate_grows_with_the_first_photo(plate: Photos, files: list[Path], qtbot: QtBot) -> None:
    before = plate.height()
    plate.bring_in(files[:1])
    qtbot.waitUntil(lambda: plate.list.count() == 1 and plate.add.isEnabled(), timeout=8000)
    assert plate.height() >= before + plate.list.height() + plate.large.pixmap().deviceIndependentSize().height()
    assert plate.tall.inner.height() <= plate.tall.viewport().height()
    assert plate.take_away.visibleRegion().boundingRect() == plate.take_away.rect()


def test_one_is_taken_away_and_undo_brings_it_back(
    stage: Stage, plate: Photos, files: list[Path], qtbot: QtBot
) -> None:
    plate.bring_in(files[:1])
    qtbot.waitUntil(lambda: plate.list.count() == 1, timeout=8000)
    plate.take_away.click()
    qtbot.waitUntil(lambda: plate.list.count() == 0, timeout=8000)
    assert not stage.session.farm.photos
    stage.session.undo().result()
    plate.renew()
    assert plate.list.count() == 1
    assert not plate.list.item(0).icon().isNull()


def test_what_is_no_photo_is_said_and_the_others_are_taken(
    stage: Stage, plate: Photos, files: list[Path], qtbot: QtBot, tmp_path: Path
) -> None:
    plate.bring_in([files[0], tmp_path / "gone.jpg"])
    qtbot.waitUntil(lambda: bool(plate.said.text()), timeout=8000)
    assert plate.said.text() == "There is no file gone.jpg. Look where it is, and name it there."
    assert len(stage.session.farm.photos) == 1


def test_new_photos_go_where_a_person_says_and_those_that_are_there_stay(
    stage: Stage, plate: Photos, files: list[Path], qtbot: QtBot
) -> None:
    assert plate.kept.chosen == 0
    plate.bring_in(files[:1])
    qtbot.waitUntil(lambda: plate.list.count() == 1, timeout=20_000)
    plate.kept.buttons[1].click()
    folder = folder_beside(stage.session.path)
    assert stage.session.farm.setting("photos beside") is True
    assert stage.words(stage.notices[-1].text) == (
        f"New photos go into the folder {folder.name} beside the farm file. Take it along when you copy that."
    )
    plate.bring_in(files[1:])
    qtbot.waitUntil(lambda: plate.list.count() == 2, timeout=20_000)
    assert len(list(folder.iterdir())) == 1
    assert all(whole_of(stage.session, photo) for photo in plate.photos)
    plate.kept.buttons[1].click()
    assert plate.kept.chosen == 1, "pressed again it stays on"
    plate.kept.buttons[0].click()
    assert not stage.session.farm.setting("photos beside")
    assert stage.words(stage.notices[-1].text) == "New photos go into the farm file."
