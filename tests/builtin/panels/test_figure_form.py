"""One figure of a ride or a tree is told on its card, and told again."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import shapely
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.figure_form import FigureForm
from pigmap.builtin.panels.other_facts import card_of
from pigmap.document.edits import add_place, add_way
from pigmap.errors import EditError
from pigmap.qt.stage import Picked, Stage
from pigmap.records import PlaceKind, WayKind
from tests.builtin.panels.test_weigh_form import comes
from tests.qt.window_farm import made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        line = shapely.LineString([(0, 200), (50, 200)])
        for edit in (
            add_way(WayKind.RIDE, line, uid="ride", name="Main ride"),
            add_place(PlaceKind.TREE, shapely.Point(5, 5), uid="tree"),
            add_place(PlaceKind.GATE, shapely.Point(9, 5), uid="gate"),
        ):
            made.session.do(edit).result()
        QApplication.processEvents()
        yield made


@pytest.fixture
def card(stage: Stage) -> Iterator[Card]:
    with made_panel(stage, "card", (360, 600)) as made:
        assert isinstance(made, Card)
        yield made


def form_of(stage: Stage, card: Card, table: str, uid: str) -> FigureForm:
    stage.pick(Picked(table, uid))
    card._do("figure")
    QApplication.processEvents()
    return card.findChildren(FigureForm)[-1]


def test_rides_and_trees_offer_it_and_gates_do_not(stage: Stage) -> None:
    farm = stage.session.farm
    words = []
    for table, uid in (("ways", "ride"), ("places", "tree"), ("places", "gate")):
        found = card_of(stage, Picked(table, uid))
        assert found is not None
        words.append([deed.words for deed in found.deeds if deed.name == "figure"])
    assert words == [["Minutes to clear"], ["How far nets keep off"], []]
    assert farm.ways["ride"].minutes_to_clear is None


def test_minutes_are_told_and_taken_back(stage: Stage, card: Card) -> None:
    form = form_of(stage, card, "ways", "ride")
    form.figure.setText("25,5")
    stage.session.do(form.edit()).result()
    assert comes(lambda: stage.session.farm.ways["ride"].minutes_to_clear == 25.5)
    form = form_of(stage, card, "ways", "ride")
    assert form.figure.text() == "25.5"
    form.figure.setText("")
    stage.session.do(form.edit()).result()
    assert comes(lambda: stage.session.farm.ways["ride"].minutes_to_clear is None)


def test_a_radius_is_told_in_the_units_that_are_shown(stage: Stage, card: Card) -> None:
    form = form_of(stage, card, "places", "tree")
    form.figure.setText("9")
    stage.session.do(form.edit()).result()
    assert comes(lambda: stage.session.farm.places["tree"].radius_m == 9.0)


@pytest.mark.parametrize(
    ("table", "uid", "typed", "said", "remedy"),
    [
        ("ways", "ride", "soon", "^The time to clear is 'soon': that is no number", "Give a number, such as 25."),
        ("ways", "ride", "-5", "^The time to clear is -5 minutes", "Give a figure from 0 to 6000 minutes."),
        ("places", "tree", "900", "^The radius is 900 m", "Give a figure from 0 to 100 m."),
    ],
)
def test_what_cannot_be_is_refused(
    stage: Stage, card: Card, table: str, uid: str, typed: str, said: str, remedy: str
) -> None:
    form = form_of(stage, card, table, uid)
    form.figure.setText(typed)
    with pytest.raises(EditError, match=said) as refused:
        form.edit()
    assert remedy in str(refused.value)
