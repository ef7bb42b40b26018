"""What soil a field has is told on its card, and what follows from it is said there."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.field_facts import field_card
from pigmap.builtin.panels.soil_form import CLASSES, SoilForm
from pigmap.document.edits import add_weather, amend
from pigmap.qt.stage import Picked, Stage
from pigmap.records import WeatherDay
from pigmap.weather.soils import SoilClass
from tests.qt.window_farm import TODAY, made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def card(stage: Stage) -> Iterator[Card]:
    with made_panel(stage, "card", (360, 600)) as made:
        assert isinstance(made, Card)
        yield made


def the_field(stage: Stage) -> str:
    return next(iter(stage.session.farm.fields))


def form_of(stage: Stage, card: Card) -> SoilForm:
    stage.pick(Picked("fields", the_field(stage)))
    card._do("soil")
    QApplication.processEvents()
    return card.findChildren(SoilForm)[-1]


def soil_of(stage: Stage) -> str | None:
    return stage.session.farm.fields[the_field(stage)].soil


def rows(stage: Stage) -> dict[str, tuple[str, str]]:
    card = field_card(stage, stage.session.farm.fields[the_field(stage)])
    return {fact.label: (fact.figure, fact.rests_on) for fact in card.facts}


def test_a_soil_is_chosen(stage: Stage, card: Card, qtbot: QtBot) -> None:
    form = form_of(stage, card)
    form.kind.setCurrentIndex(form.kind.findData(SoilClass.CLAY))
    form.kind.activated.emit(form.kind.currentIndex())
    assert form.name.text() == "clay"
    assert form.counts.text() == "Counts as clay where it is said how wet the ground is."
    form.take_it()
    qtbot.waitUntil(lambda: soil_of(stage) == "clay", timeout=5000)
    assert stage.words(stage.notices[-1].text).endswith(": clay.")


def test_its_own_name_is_kept_and_counts_as_a_class(stage: Stage, card: Card, qtbot: QtBot) -> None:
    form = form_of(stage, card)
    form.name.setText("Sandy loam over chalk")
    assert form.kind.currentData() == SoilClass.LOAM
    form.kind.activated.emit(form.kind.currentIndex())
    assert form.name.text() == "Sandy loam over chalk"
    form.take_it()
    qtbot.waitUntil(lambda: soil_of(stage) == "Sandy loam over chalk", timeout=5000)


def test_a_name_that_names_no_class_says_which_there_are(stage: Stage, card: Card) -> None:
    form = form_of(stage, card)
    assert form.counts.text() == "Without a soil nothing is said of how wet the ground is."
    form.name.setText("red earth")
    assert form.counts.text() == (
        "Say whether its soil is sand, loam, clay or peat; the longer name of a soil may go with it."
    )


def test_every_class_has_its_words() -> None:
    assert set(CLASSES) == set(SoilClass)


def test_the_card_says_how_wet_the_ground_is(stage: Stage) -> None:
    uid = the_field(stage)
    assert "Soil" not in rows(stage)
    stage.session.do(amend("fields", uid, soil="heavy clay")).result()
    assert rows(stage)["Soil"] == ("heavy clay", "counts as clay")
    assert "Ground" not in rows(stage)
    days = [
        WeatherDay(day=TODAY - timedelta(days=n), rain_mm=90.0 if n == 1 else 0.0, min_c=4.0, max_c=14.0)
        for n in range(40)
    ]
    stage.session.do(add_weather(days)).result()
    assert rows(stage)["Ground"] == ("too wet for pigs", "0 mm below full")
    stage.show_day(TODAY + timedelta(days=200))
    assert rows(stage)["Ground"][1] == "by usual weather"


def test_a_soil_of_no_known_sort_says_so_on_the_card(stage: Stage) -> None:
    stage.session.do(amend("fields", the_field(stage), soil="red earth")).result()
    assert rows(stage)["Soil"] == ("red earth", "of no known sort")
