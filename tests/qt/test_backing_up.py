"""A backup is kept soon after a farm is opened, off the window's thread, and what stands against it is said once."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from pigmap.document.edits import add_group, change_setting
from pigmap.errors import StoreError
from pigmap.qt import backing_up
from pigmap.qt.backing_up import BackingUp
from pigmap.qt.jobs import Jobs
from pigmap.qt.stage import Stage
from pigmap.session.backups import backups_of
from tests.qt.window_farm import made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Stage]:
    monkeypatch.setenv("PIGMAP_DATA", str(tmp_path / "data"))
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def jobs(stage: Stage) -> Iterator[Jobs]:
    made = Jobs(stage)
    yield made
    made.close()


def test_one_is_kept_soon_and_more_as_something_changes(stage: Stage, jobs: Jobs, qtbot: QtBot) -> None:
    path = stage.session.path
    keeping = BackingUp(stage, jobs, first_ms=1)
    qtbot.waitUntil(lambda: len(backups_of(path)) == 1, timeout=5000)
    qtbot.wait(1100)  # the name of a backup tells seconds
    stage.session.do(add_group("Late pigs")).result()
    keeping.keep()
    qtbot.waitUntil(lambda: len(backups_of(path)) == 2, timeout=5000)


def test_the_farm_to_try_things_on_has_none(stage: Stage, jobs: Jobs, qtbot: QtBot) -> None:
    stage.session.do(change_setting("sample", True)).result()
    BackingUp(stage, jobs, first_ms=1)
    qtbot.wait(200)
    assert backups_of(stage.session.path) == ()


def test_what_stands_against_it_is_said_once(
    stage: Stage, jobs: Jobs, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise StoreError("No backup could be kept.", remedy="Make room.")

    monkeypatch.setattr(backing_up, "keep_backup", full)
    keeping = BackingUp(stage, jobs, first_ms=1)
    qtbot.waitUntil(lambda: bool(stage.notices), timeout=5000)
    keeping.keep()
    qtbot.wait(200)
    assert [stage.words(notice.text) for notice in stage.notices] == ["No backup could be kept. Make room."]
