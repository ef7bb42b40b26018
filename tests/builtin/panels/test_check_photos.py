"""Photos of a daily check: chosen in its form, shown small on its card and large on the plate."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels import check_photos
from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.check import DailyCheck
from pigmap.builtin.panels.photos import Photos
from pigmap.qt.stage import Picked, Stage
from pigmap.records import Photo
from pigmap.session.photos import Belongs, take_photos
from tests.qt.window_farm import TODAY, day, made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def panel(stage: Stage) -> Iterator[DailyCheck]:
    with made_panel(stage, "check", (292, 900)) as made:
        assert isinstance(made, DailyCheck)
        stage.pick(Picked("groups", "group1"))
        stage.take_up("check")
        yield made
        made.close_down()


@pytest.fixture
def files(tmp_path: Path) -> tuple[Path, ...]:
    """Return two photos."""
    paths = tmp_path / "red.jpg", tmp_path / "blue.jpg"
    for path, colour in zip(paths, ("red", "blue"), strict=True):
        Image.new("RGB", (900, 600), colour).save(path)
    return paths


def photos(stage: Stage) -> list[Photo]:
    return list(stage.session.farm.photos.values())


def test_photos_that_were_chosen_go_with_the_check_once_it_is_recorded(
    panel: DailyCheck, stage: Stage, files: tuple[Path, ...], monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    monkeypatch.setattr(check_photos, "choose_photos", lambda *_: list(files))
    panel.photos.add.click()
    assert panel.photos.said.text() == "2 photos go with it."
    assert photos(stage) == []
    QTest.keyClicks(panel.form.kv, "5,8")
    panel.record.click()
    qtbot.waitUntil(lambda: len(photos(stage)) == 2, timeout=20_000)
    (check,) = [each for each in stage.session.farm.checks.values() if each.fence_kv == 5.8]
    assert {photo.check_uid for photo in photos(stage)} == {check.uid}
    assert {photo.taken_on for photo in photos(stage)} == {day(0)}
    qtbot.waitUntil(lambda: stage.words(stage.notices[-1].text) == "2 photos added to the check.", timeout=20_000)
    assert panel.photos.paths == ()
    assert panel.photos.said.isHidden()


def test_photos_wait_with_what_is_typed_of_their_group_and_can_be_let_go(
    panel: DailyCheck, stage: Stage, files: tuple[Path, ...]
) -> None:
    panel.photos.choose(files)
    stage.pick(Picked("groups", "group0"))
    assert panel.photos.paths == ()
    stage.pick(Picked("groups", "group1"))
    assert panel.photos.paths == files
    panel.photos.none.click()
    assert panel.photos.paths == ()


def test_what_is_no_photo_is_told_and_the_check_stands(
    panel: DailyCheck, stage: Stage, tmp_path: Path, qtbot: QtBot
) -> None:
    (tmp_path / "notes.txt").write_text("no photo")
    panel.photos.choose((tmp_path / "notes.txt",))
    QTest.keyClicks(panel.form.kv, "5,8")
    panel.record.click()
    words = "notes.txt is no photo that can be read. Give a JPEG, PNG, WebP or TIFF; most phones can save one."
    qtbot.waitUntil(lambda: stage.words(stage.notices[-1].text) == words, timeout=20_000)
    assert any(each.fence_kv == 5.8 for each in stage.session.farm.checks.values())


@pytest.fixture
def photo(stage: Stage, files: tuple[Path, ...]) -> Photo:
    """Return the photo of a daily check."""
    check = max(stage.session.farm.checks.values(), key=lambda each: each.checked_on)
    taken = take_photos(stage.session, files[:1], TODAY, Belongs(check.paddock_uid, check.uid, check.checked_on))
    return taken.photos[0]


@pytest.mark.parametrize("table", ["checks", "paddocks"])
def test_a_card_shows_them_small_and_a_press_shows_one_large(stage: Stage, photo: Photo, table: str) -> None:
    asked: list[str] = []
    stage.plate_asked.connect(asked.append)
    with made_panel(stage, "card", (340, 800)) as card, made_panel(stage, "photos", (460, 900)) as plate:
        assert isinstance(card, Card)
        assert isinstance(plate, Photos)
        uid = photo.check_uid if table == "checks" else photo.paddock_uid
        stage.pick(Picked(table, str(uid)))
        shown = card._pictures.photos
        assert shown is not None
        (button,) = shown.buttons
        assert not button.icon().isNull()
        assert button.accessibleName().startswith("Photo, ")
        button.click()
        assert asked == ["photos"]
        plate.open_plate()
        assert plate.photos[plate.list.currentRow()].uid == photo.uid
        stage.pick(Picked("groups", "group0"))
        assert shown.isHidden()
        plate.close_down()
        card.close_down()


def test_a_card_of_what_has_no_photo_keeps_no_room_for_any(stage: Stage, photo: Photo) -> None:
    with made_panel(stage, "card", (340, 800)) as card:
        assert isinstance(card, Card)
        other = next(uid for uid in stage.session.farm.paddocks if uid != photo.paddock_uid)
        stage.pick(Picked("paddocks", other))
        assert card._pictures.high(300) == (0, 0)
        card.close_down()
