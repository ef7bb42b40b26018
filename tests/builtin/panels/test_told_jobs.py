from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
import shapely
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.other_facts import card_of
from pigmap.builtin.panels.told_jobs import ToldJobs
from pigmap.document.edits import Before, GroundWork, tell_before_of_field, tell_work
from pigmap.qt.buttons import WordButton
from pigmap.qt.stage import Picked, Stage
from pigmap.records import GroundJobKind
from tests.qt.window_farm import made_panel, made_stage

MANURE = GroundWork(kind=GroundJobKind.MANURE, happened_on=date(2026, 4, 2), n_kg_ha=80.0)


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        made.session.do(tell_before_of_field("field", Before(kind=GroundJobKind.NEVER_USED))).result()
        made.session.do(tell_work(shapely.box(-20, -20, 200, 130), MANURE)).result()
        yield made


@pytest.fixture
def card(stage: Stage) -> Iterator[Card]:
    with made_panel(stage, "card", (360, 900)) as made:
        assert isinstance(made, Card)
        stage.pick(Picked("fields", "field"))
        yield made
        made.close_down()


def _button(card: Card, words: str) -> WordButton:
    return next(each for each in card._deeds.buttons if each.text() == words)


def test_the_card_of_a_field_lists_the_work(stage: Stage) -> None:
    facts = card_of(stage, Picked("fields", "field"))
    assert facts is not None
    rows = [(fact.figure, fact.rests_on) for fact in facts.facts if fact.label == "Work"]
    assert rows == [("manure on Thu 2 Apr 2026, 80 kg/ha of nitrogen", "50 % of it")]


def test_what_was_done_takes_up_the_brush_of_work(card: Card, stage: Stage) -> None:
    _button(card, "What was done").click()
    assert stage.verb == "work"


def test_what_was_told_can_be_taken_out_line_by_line(card: Card, stage: Stage) -> None:
    _button(card, "What was told").click()
    (form,) = card.findChildren(ToldJobs)
    assert [words.text() for words in form._lines.values()] == [
        "manure on Thu 2 Apr 2026, 80 kg/ha of nitrogen, 50 % of it",
        "never used, 100 % of it",
    ]
    form.first.click()  # type: ignore[attr-defined]
    assert [job.kind for job in stage.session.farm.ground_jobs.values()] == [GroundJobKind.NEVER_USED]
    assert stage.notices[-1].deed == "undo"
    form.first.click()  # type: ignore[attr-defined]
    assert form._none.text() == "Nothing is told of this field."
    stage.session.undo().result()
    assert len(form.outs) == 1


def test_a_field_of_which_nothing_is_told_offers_no_list(card: Card, stage: Stage) -> None:
    for _ in range(2):
        stage.session.undo().result()
    assert "What was told" not in [each.text() for each in card._deeds.buttons]
