"""What feeds a fence and the volts of a line can be told on their cards, and told again."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import shapely
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.feed_form import FeedForm
from pigmap.builtin.panels.other_facts import card_of
from pigmap.document.edits import add_place, add_way, tell_energizer_of
from pigmap.qt.fed_by import NOT_ELECTRIC
from pigmap.qt.stage import Picked, Stage
from pigmap.records import PlaceKind, Way, WayKind
from tests.builtin.panels.test_weigh_form import comes
from tests.qt.window_farm import made_panel, made_stage

LINE = shapely.LineString([(0, 200), (50, 200)])


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        for edit in (
            add_place(PlaceKind.ENERGIZER, shapely.Point(5, 5), name="Yard", uid="yard"),
            add_way(WayKind.PERMANENT_FENCE, LINE, uid="fence", name="Boundary"),
            add_way(WayKind.OVERHEAD_LINE, LINE, uid="overhead"),
            add_way(WayKind.PATH, LINE, uid="path"),
            tell_energizer_of("group0", uid="unit", output_j=0.5),
        ):
            made.session.do(edit).result()
        QApplication.processEvents()
        yield made


@pytest.fixture
def card(stage: Stage) -> Iterator[Card]:
    with made_panel(stage, "card", (360, 600)) as made:
        assert isinstance(made, Card)
        yield made


def form_of(stage: Stage, card: Card, table: str, uid: str, deed: str) -> FeedForm:
    stage.pick(Picked(table, uid))
    card._do(deed)
    QApplication.processEvents()
    return card.findChildren(FeedForm)[-1]


def way(stage: Stage, uid: str) -> Way:
    return stage.session.farm.ways[uid]


def deeds(stage: Stage, table: str, uid: str) -> list[str]:
    found = card_of(stage, Picked(table, uid))
    assert found is not None
    return [deed.name for deed in found.deeds]


def figures(stage: Stage, uid: str) -> dict[str, tuple[str, str]]:
    found = card_of(stage, Picked("ways", uid))
    assert found is not None
    return {fact.label: (fact.figure, fact.rests_on) for fact in found.facts}


def test_only_what_can_be_told_is_asked_for(stage: Stage) -> None:
    assert deeds(stage, "ways", "fence") == ["fed", "rename", "remove"]
    assert deeds(stage, "ways", "overhead") == ["volts", "rename", "remove"]
    assert deeds(stage, "ways", "path") == ["rename", "remove"]


def test_a_fence_is_told_what_feeds_it_and_told_again(stage: Stage, card: Card) -> None:
    assert figures(stage, "fence")["Electric"] == ("no", "")
    form = form_of(stage, card, "ways", "fence", "fed")
    assert form.fed_by.currentData() == NOT_ELECTRIC
    form.fed_by.setCurrentIndex(form.fed_by.findData("yard"))
    form.take.click()
    assert comes(lambda: way(stage, "fence").energizer_uid == "yard")
    assert way(stage, "fence").electric
    assert figures(stage, "fence")["Electric"] == ("yes", "fed by Yard")
    form = form_of(stage, card, "ways", "fence", "fed")
    assert form.fed_by.currentData() == "yard"
    form.fed_by.setCurrentIndex(form.fed_by.findData(""))
    form.take.click()
    assert comes(lambda: way(stage, "fence").energizer_uid is None)
    assert figures(stage, "fence")["Electric"] == ("yes", "not known by which energizer")
    stage.session.undo().result()
    assert way(stage, "fence").energizer_uid == "yard"


def test_the_volts_of_a_line_are_typed_and_taken_back_to_not_known(stage: Stage, card: Card) -> None:
    form = form_of(stage, card, "ways", "overhead", "volts")
    form.volts.setText("0,4 kV")
    QTest.keyClick(form.volts, Qt.Key.Key_Return)
    assert comes(lambda: way(stage, "overhead").voltage_kv == 0.4)
    form = form_of(stage, card, "ways", "overhead", "volts")
    form.volts.setText("many")
    form.take.click()
    assert form.said.text() == "The voltage is 'many': that is no number. Give a number, such as 11."
    form.volts.setText("")
    form.take.click()
    assert comes(lambda: way(stage, "overhead").voltage_kv is None)


def test_the_height_of_a_line_and_that_it_carries_no_power_are_told_on_its_card(stage: Stage, card: Card) -> None:
    form = form_of(stage, card, "ways", "overhead", "volts")
    form.lowest.setText("6,5 m")
    form.talks.setChecked(True)
    QTest.keyClick(form.lowest, Qt.Key.Key_Return)
    assert comes(lambda: way(stage, "overhead").height_m == 6.5)
    assert way(stage, "overhead").communication
    assert figures(stage, "overhead")["Lowest wire"] == ("6.5 m", "")
    assert figures(stage, "overhead")["Carries"] == ("telephone or data", "")
    form = form_of(stage, card, "ways", "overhead", "volts")
    form.lowest.setText("high")
    form.take.click()
    assert form.said.text() == "The height is 'high': that is no number. Give a number, such as 6.5."


def test_a_paddock_is_told_its_energizer_and_its_own_switch(stage: Stage, card: Card) -> None:
    here = next(stay for stay in stage.session.farm.stays.values() if stay.state == "running")
    uid = here.paddock_uid
    assert "fed" in deeds(stage, "paddocks", uid)
    form = form_of(stage, card, "paddocks", uid, "fed")
    assert form.fed_by.currentData() == ""
    form.fed_by.setCurrentIndex(form.fed_by.findData("unit"))
    form.own_switch.setChecked(True)
    form.take.click()
    assert comes(lambda: stage.session.farm.paddocks[uid].own_switch)
    assert stage.session.farm.paddocks[uid].energizer_uid == "unit"
    assert stage.session.farm.energizers["unit"].group_uid == "group0"


def test_esc_leaves_things_as_they_were(stage: Stage, card: Card) -> None:
    form = form_of(stage, card, "ways", "overhead", "volts")
    form.volts.setText("11")
    QTest.keyClick(form.volts, Qt.Key.Key_Escape)
    QApplication.processEvents()
    assert way(stage, "overhead").voltage_kv is None
    assert card._form is None
