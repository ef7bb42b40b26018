"""The season strip marks what rules a day, and says so on hover and to a screen reader."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.season import Season
from pigmap.builtin.panels.season_marks import mark_words, marks
from pigmap.document.edits import book_slaughter, serve, treat
from pigmap.qt.stage import Picked, Stage
from tests.qt.window_farm import TODAY, made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def season(stage: Stage) -> Iterator[Season]:
    with made_panel(stage, "season", (1200, 160)) as made:
        assert isinstance(made, Season)
        yield made


def test_marks_lie_on_their_days_in_their_group_s_row(stage: Stage, season: Season) -> None:
    bare = season.grab().toImage()
    for edit in (
        treat("group0", TODAY, "Wormer", withdrawal_days=7),
        serve("group1", "Berta", None, due_on=TODAY + timedelta(days=6)),
        book_slaughter(TODAY + timedelta(days=9), group_uid="group1", pigs=2),
    ):
        stage.session.do(edit).result()
    QApplication.processEvents()
    strip = season.strip
    held, due, booked = marks(stage.session.farm, strip)
    assert held.box.left() == strip.scale.x_of(TODAY)
    assert held.box.right() == strip.scale.x_of(TODAY + timedelta(days=8))
    assert strip.top <= held.box.top() < strip.top + strip.row <= due.box.top()
    assert due.box.center().x() == pytest.approx(strip.scale.middle_of(TODAY + timedelta(days=6)))
    assert due.box.center().x() < booked.box.center().x()
    assert season.grab().toImage() != bare


def test_a_mark_says_in_words_what_it_stands_for(stage: Stage, season: Season) -> None:
    stage.session.do(book_slaughter(TODAY + timedelta(days=9), group_uid="group1", pigs=2)).result()
    QApplication.processEvents()
    (mark,) = marks(stage.session.farm, season.strip)
    at = mark.box.center()
    assert mark_words(stage.session.farm, season.strip, stage, at.x(), at.y()) == "2 pigs booked for Fri 22 May 2026"
    assert mark_words(stage.session.farm, season.strip, stage, at.x() + 60, at.y()) == ""
    stage.pick(Picked("groups", "group1"))
    assert "2 pigs booked for" in season.accessibleDescription()
