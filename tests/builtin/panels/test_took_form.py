"""How long a move took is told on the group's card, and counts for the moves to come."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.day_deeds import MOVED, do_day_deed
from pigmap.builtin.panels.moves_words import day_of_moves
from pigmap.builtin.panels.other_facts import card_of
from pigmap.builtin.panels.took_form import TOOK, TookForm
from pigmap.document.edits import begin_stay, tell_move_time
from pigmap.errors import EditError
from pigmap.qt.stage import Picked, Stage
from pigmap.records import MoveDone, add
from tests.builtin.panels.test_weigh_form import comes
from tests.qt.window_farm import TODAY, day, made_panel, made_stage
from tests.store.made import edit


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def card(stage: Stage) -> Iterator[Card]:
    with made_panel(stage, "card", (360, 600)) as made:
        assert isinstance(made, Card)
        yield made


def _deeds(stage: Stage) -> list[str]:
    found = card_of(stage, Picked("groups", "group0"))
    assert found is not None
    return [deed.name for deed in found.deeds]


def _form(stage: Stage, card: Card) -> TookForm:
    stage.pick(Picked("groups", "group0"))
    card._do(TOOK)
    QApplication.processEvents()
    return card.findChildren(TookForm)[-1]


def test_after_a_move_its_time_is_told_once_and_can_be_undone(stage: Stage, card: Card) -> None:
    assert TOOK not in _deeds(stage)
    do_day_deed(stage, MOVED, "group0")
    assert TOOK in _deeds(stage)
    form = _form(stage, card)
    assert form.people.text() == "1"
    form.minutes.setText("35,5")
    form.people.setText("2")
    form.take.click()
    assert comes(lambda: bool(stage.session.farm.moves))
    (told,) = stage.session.farm.moves.values()
    assert (told.to_stay_uid, told.done_on, told.minutes, told.people) == ("group0s3", TODAY, 35.5, 2)
    assert TOOK not in _deeds(stage)
    stage.session.undo().result()
    assert TOOK in _deeds(stage)


@pytest.mark.parametrize(
    ("minutes", "people", "said"),
    [
        ("", "1", "The time is not given. Give a number, such as 35."),
        ("half an hour", "1", "The time is 'half an hour': that is no number. Give a number, such as 35."),
        ("30", "0", "The number of people is 0. Give a number from 1 to 50."),
        ("0", "1", "The time a move took in minutes is 0. Give a number from 1 to 1440."),
    ],
)
def test_what_is_no_time_is_said_and_stays_typed(
    stage: Stage, card: Card, minutes: str, people: str, said: str
) -> None:
    do_day_deed(stage, MOVED, "group0")
    form = _form(stage, card)
    form.minutes.setText(minutes)
    form.people.setText(people)
    form.take.click()
    QApplication.processEvents()
    assert form.said.text() == said
    assert not stage.session.farm.moves


def test_days_after_a_move_nobody_is_asked(stage: Stage) -> None:
    stage.session.do(begin_stay("group0s3", TODAY)).result()
    stage.today = TODAY + timedelta(days=1)
    stage.show_day(stage.today)
    assert TOOK in _deeds(stage)
    stage.today = TODAY + timedelta(days=2)
    stage.show_day(stage.today)
    assert TOOK not in _deeds(stage)


def test_a_move_that_is_not_done_took_no_time(stage: Stage) -> None:
    with pytest.raises(EditError) as refused:
        tell_move_time("group0s3", 30.0, 1)(stage.session.farm)
    assert str(refused.value.message) == "The move to Top Field 4 is not done yet."
    assert str(refused.value.remedy) == "Record that they moved first, then how long it took."


def test_a_time_told_again_is_put_right(stage: Stage) -> None:
    stage.session.do(begin_stay("group0s3", TODAY)).result()
    stage.session.do(tell_move_time("group0s3", 30.0, 1)).result()
    stage.session.do(tell_move_time("group0s3", 40.0, 2)).result()
    assert [(each.minutes, each.people) for each in stage.session.farm.moves.values()] == [(40.0, 2)]


def test_from_ten_moves_on_the_moves_of_the_day_last_as_the_farms_own_did(stage: Stage) -> None:
    stays = [*stage.session.farm.stays][:1] * 10
    told = [MoveDone(to_stay_uid=uid, done_on=day(-at - 1), minutes=45.0, people=1) for at, uid in enumerate(stays)]
    stage.session.do(edit("Times", *(add(each) for each in told))).result()
    stage.show_day(day(3))
    assert "About 90 minutes for one person, 60 for two, as 10 moves of this farm went" in day_of_moves(stage).lasts
