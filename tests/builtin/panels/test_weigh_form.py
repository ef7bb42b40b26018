from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.animals.weight import Weight, live_weight
from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.nets_form import NetsForm
from pigmap.builtin.panels.other_facts import card_of
from pigmap.builtin.panels.weigh_form import WeighForm
from pigmap.builtin.panels.weigh_typed import WeighTyped, weighed
from pigmap.document.edits import change_setting
from pigmap.errors import EditError
from pigmap.qt.stage import Picked, Stage
from pigmap.records import WeighedBy
from tests.qt.window_farm import made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def card(stage: Stage) -> Iterator[Card]:
    with made_panel(stage, "card", (360, 600)) as made:
        assert isinstance(made, Card)
        yield made


def weigh_form(stage: Stage, card: Card) -> WeighForm:
    stage.pick(Picked("groups", "group0"))
    card._do("weigh")
    QApplication.processEvents()
    return card.findChildren(WeighForm)[-1]


def comes(true: Callable[[], bool]) -> bool:
    """Whether something comes true once what was asked for is done."""
    for _ in range(200):
        if true():
            return True
        QTest.qWait(10)
    return False


def now(stage: Stage) -> Weight:
    return live_weight(stage.session.farm, "group0", stage.today)


def test_a_weight_is_typed_on_the_card_with_keys_alone(stage: Stage, card: Card) -> None:
    form = weigh_form(stage, card)
    assert form.weight.hasFocus() or form.first is form.weight
    QTest.keyClicks(form.weight, "92,5")
    QTest.keyClick(form.weight, Qt.Key.Key_Return)
    assert comes(lambda: (now(stage).pigs, now(stage).mean_kg) == (8, 92.5))
    stage.session.undo().result()
    assert now(stage).mean_kg == 80.0


def test_another_number_asks_what_became_of_the_others(stage: Stage, card: Card) -> None:
    form = weigh_form(stage, card)
    assert form.why.isHidden()
    form.pigs.selectAll()
    QTest.keyClicks(form.pigs, "7")
    assert [form.why.itemText(at) for at in range(form.why.count())] == [
        "counted or typed wrong before",
        "sold or slaughtered",
        "died",
        "went to another group",
    ]
    form.why.setCurrentIndex(2)
    form.take.click()
    assert comes(lambda: now(stage).pigs == 7)


def test_an_odd_weight_is_said_and_written_down_all_the_same(stage: Stage, card: Card) -> None:
    form = weigh_form(stage, card)
    QTest.keyClicks(form.weight, "4")
    for _ in range(3):
        QTest.keyClick(form.weight, Qt.Key.Key_Return)
    assert not form.take.hasFocus()
    assert now(stage).mean_kg == 80.0
    assert "4 kg each is light for" in form.said.text()
    assert form.said.text().endswith("Look at the weight.")
    assert form.take.text() == "Write it down as it is"
    form.take.click()
    assert comes(lambda: now(stage).mean_kg == 4.0)


def test_what_is_no_number_stays_typed(stage: Stage, card: Card) -> None:
    form = weigh_form(stage, card)
    QTest.keyClicks(form.weight, "much")
    form.take.click()
    assert form.said.text() == "The weight of a pig is 'much': that is no number. Give a number, such as 40."
    assert form.weight.text() == "much"


def test_nothing_new_is_said_to_be_nothing_new(stage: Stage) -> None:
    with pytest.raises(EditError, match="as before") as caught:
        weighed(WeighTyped("", "8", "", None, 8), "metric", stage.today)
    assert str(caught.value.remedy) == "Type what was counted or weighed."


def nets_of(stage: Stage, uid: str) -> Counter[str]:
    return Counter(use.net_kind_uid for use in stage.session.farm.net_uses.values() if use.paddock_uid == uid)


def nets_why(stage: Stage) -> str:
    facts = card_of(stage, Picked("stays", "group0s2"))
    assert facts is not None
    why = next(fact.why for fact in facts.facts if fact.label == "Nets")
    assert why is not None
    return " ".join(str(part) for part in why)


def test_nets_that_stand_are_put_right_on_the_card_of_their_paddock(stage: Stage, card: Card) -> None:
    stage.pick(Picked("stays", "group0s2"))
    uid = stage.session.farm.stays["group0s2"].paddock_uid
    card._do("nets")
    form = card.findChildren(NetsForm)[-1]
    ((kind, stepper),) = form.nets.steppers.items()
    assert form.nets.counts == {kind: 4}
    QTest.keyClick(stepper.stops[0], Qt.Key.Key_Space)
    form.take.click()
    assert comes(lambda: nets_of(stage, uid) == {kind: 3})
    focused = card.window().focusWidget()
    assert focused is not None
    assert focused.accessibleName() == "Nets that stand"
    assert "written down" in nets_why(stage)
    stage.session.do(change_setting("guessed nets", [uid])).result()
    assert "guessed from the length of the sides" in nets_why(stage)
    assert "written down" not in nets_why(stage)


def test_how_a_weight_was_found_is_chosen_and_offered_again(stage: Stage, card: Card) -> None:
    form = weigh_form(stage, card)
    assert [form.by.itemText(at) for at in range(form.by.count())] == ["on a scale", "with a tape", "by eye"]
    assert form.by.currentData() == WeighedBy.SCALE
    form.weight.setText("85")
    form.by.setCurrentIndex(2)
    form.take_it()
    assert comes(lambda: now(stage).mean_kg == 85.0)
    (event,) = (each for each in stage.session.farm.group_events.values() if each.mean_kg == 85.0)
    assert event.weighed_by is WeighedBy.EYE
    assert weigh_form(stage, card).by.currentData() == WeighedBy.EYE
