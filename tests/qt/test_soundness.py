"""The farm file is looked through in the background; where it is not sound nothing more is written, and it is said."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.farm_file import FarmFilePlate
from pigmap.document.edits import add_group
from pigmap.qt.soundness import PLATE, Soundness, soundness_of
from pigmap.qt.stage import Stage
from pigmap.qt.watching import Watching
from pigmap.session import Session
from pigmap.session.backups import keep_backup
from pigmap.session.new_farm import Made
from pigmap.store.health import findings
from pigmap.text import Text
from tests.qt.window_farm import made_panel, made_stage
from tests.session.test_backups import NOW
from tests.store.test_health import behind_the_log


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def soundness(stage: Stage) -> Iterator[Soundness]:
    made = soundness_of(stage)
    yield made
    made.close()


def hurt(stage: Stage) -> None:
    """Change a row past the log."""
    behind_the_log(stage.session.path, "UPDATE groups SET name = 'Strangers' WHERE uid = 'group0'")


def test_a_sound_file_is_looked_through_and_nothing_is_said(stage: Stage, soundness: Soundness, qtbot: QtBot) -> None:
    assert soundness_of(stage) is soundness
    with qtbot.waitSignal(soundness.changed, timeout=10_000):
        soundness.look()
    qtbot.waitUntil(lambda: not soundness.running, timeout=10_000)
    assert soundness.looked is not None
    assert (soundness.looked.found, soundness.looked.whole) == ((), True)
    assert soundness.ended_at is not None
    assert not stage.notices


def test_a_file_that_is_not_sound_is_said_and_nothing_more_is_written(
    stage: Stage, soundness: Soundness, qtbot: QtBot
) -> None:
    watching = Watching(stage, stage)
    hurt(stage)
    soundness.look()
    qtbot.waitUntil(lambda: bool(stage.notices), timeout=10_000)
    (notice,) = stage.notices
    assert (notice.kind, notice.deed) == ("refused", PLATE)
    said = stage.words(notice.text)
    assert said.startswith("hill.gpkg is not sound: name of a row of groups differs from the change log: group0.")
    assert said.endswith("Nothing more is written into it.")
    refused = stage.session.do(add_group("Late pigs")).exception()
    assert str(refused) == (
        "hill.gpkg is not sound, so nothing more is written into it. Open a rescued copy of it, or its newest backup, "
        "and go on there."
    )
    assert watching is not None


def test_the_plate_writes_a_rescued_copy_and_opens_it(stage: Stage, soundness: Soundness, qtbot: QtBot) -> None:
    hurt(stage)
    before = stage.session.path.read_bytes()
    asked: list[Made] = []
    stage.farm_asked.connect(asked.append)
    with made_panel(stage, "farm-file", (420, 600)) as plate:
        assert isinstance(plate, FarmFilePlate)
        plate.open_plate()
        assert plate.state.text() == "It was not looked through yet."
        assert not plate.rescue.isVisible()
        plate.look.click()
        qtbot.waitUntil(lambda: plate.state.text() == "It is not sound.", timeout=10_000)
        assert plate.found.text().startswith("name of a row of groups differs from the change log: group0.")
        assert not plate.backup.isVisible()
        plate.rescue.click()
        qtbot.waitUntil(lambda: bool(asked), timeout=10_000)
    (made,) = asked
    assert made.path.name == "hill, rescued.gpkg"
    assert "1 of them was made anew from the change log. 1 stood otherwise" in str(made.words)
    assert findings(made.path) == []
    assert stage.session.path.read_bytes() == before


def test_the_plate_offers_the_newest_good_backup(stage: Stage, soundness: Soundness, qtbot: QtBot) -> None:
    keep_backup(stage.session.path, NOW)
    hurt(stage)
    asked: list[Made] = []
    stage.farm_asked.connect(asked.append)
    with made_panel(stage, "farm-file", (420, 600)) as plate:
        assert isinstance(plate, FarmFilePlate)
        plate.open_plate()
        plate.look.click()
        qtbot.waitUntil(lambda: plate.backup.isVisible(), timeout=10_000)
        assert plate.backup.text().startswith("Open the newest backup: ")
        plate.backup.click()
        qtbot.waitUntil(lambda: bool(asked), timeout=10_000)
    assert str(asked[0].words).endswith("the newest good backup. The damaged file was not changed.")
    assert findings(asked[0].path) == []


def test_a_file_that_is_gone_is_said_once_and_so_is_that_it_is_back(stage: Stage, qtbot: QtBot) -> None:
    watching, path = Watching(stage, stage), stage.session.path
    away = path.with_name("away.gpkg")
    path.rename(away)
    for _ in range(3):
        watching.look()
        qtbot.wait(10)
    (gone,) = stage.notices
    assert stage.words(gone.text).startswith("hill.gpkg is no longer in ")
    assert gone.kind == "refused"
    away.rename(path)
    for _ in range(3):
        watching.look()
        qtbot.wait(10)
    assert [stage.words(each.text) for each in stage.notices][1:] == [
        "hill.gpkg is there again, and what you do goes into it."
    ]
    stage.session.do(add_group("Late pigs")).result()


def test_a_window_that_looked_on_says_when_the_farm_can_be_changed(qtbot: QtBot, stage: Stage) -> None:
    path = stage.session.path
    first = Session.open(path, hold=True)
    with Session.open(path, hold=True) as second:
        on = Stage(second, stage.today)
        watching = Watching(on, on)
        watching.look()
        assert not on.notices
        first.close()
        watching.look()
        qtbot.waitUntil(lambda: bool(on.notices), timeout=2000)
        assert on.notices[0].text == Text(
            "The other window was closed: {file} can be changed here now.", {"file": path.name}
        )
