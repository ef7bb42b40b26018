from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtWidgets import QFileDialog, QWidget
from pytestqt.qtbot import QtBot

from pigmap.document.edits import link_image
from pigmap.qt import moved_images
from pigmap.qt.stage import Notice, Stage
from pigmap.session.sample.aerial import write_image
from pigmap.session.sample.site import Site, projection
from tests.qt.window_farm import made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        made.session.do(link_image("Aerial", "gone.tif", uid="a")).result()
        yield made
        moved_images.close_down(made)


def _asks(monkeypatch: pytest.MonkeyPatch, answer: str) -> None:
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (answer, ""))


def test_a_moved_image_is_linked_to_the_file_that_is_shown(
    stage: Stage, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[Notice] = []
    stage.noticed.connect(said.append)
    there = stage.session.path.parent / "here.tif"
    write_image(there, Site(projection()), date(2026, 11, 25))
    _asks(monkeypatch, str(there))
    moved_images.ask_where(stage, QWidget())
    assert not said  # a worker looks at the file
    qtbot.waitUntil(lambda: bool(said), timeout=8000)
    assert stage.session.farm.images["a"].link == "here.tif"
    assert moved_images.moved_image(stage) is None
    assert stage.words(said[-1].text) == "Aerial is shown from here.tif."
    assert said[-1].deed == "undo"


def test_a_file_that_is_no_image_is_refused_and_the_question_stays(
    stage: Stage, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[Notice] = []
    stage.noticed.connect(said.append)
    wrong = stage.session.path.parent / "notes.tif"
    wrong.write_text("eggs, bread")
    _asks(monkeypatch, str(wrong))
    moved_images.ask_where(stage, QWidget())
    qtbot.waitUntil(lambda: bool(said), timeout=8000)
    assert stage.session.farm.images["a"].link == "gone.tif"
    assert (said[-1].kind, said[-1].deed) == ("refused", moved_images.DEED)
    assert "notes.tif" in stage.words(said[-1].text)


def test_nothing_changes_where_no_file_is_chosen(stage: Stage, monkeypatch: pytest.MonkeyPatch) -> None:
    _asks(monkeypatch, "")
    before = stage.session.farm
    moved_images.ask_where(stage, QWidget())
    assert stage.session.farm is before
