from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from pigmap.animals.weight import live_weight
from pigmap.builtin.panels.group_card import GroupCard
from pigmap.builtin.panels.group_form import GroupForm
from pigmap.builtin.panels.group_typed import GroupTyped, MistypedError, doubts, given
from pigmap.builtin.panels.group_words import pigs_words
from pigmap.builtin.panels.other_facts import card_of
from pigmap.document.edits import change_setting
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import undo
from pigmap.qt.stage import Picked, Room, Stage
from pigmap.records import PigClass
from pigmap.text import Text
from tests.qt.window_farm import TODAY, day, made_panel, made_stage, made_window


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def panel(stage: Stage) -> Iterator[QWidget]:
    with made_panel(stage, "groups") as made:
        yield made


def _button(panel: QWidget, words: str) -> WordButton:
    return next(each for each in panel.findChildren(WordButton) if each.text() == words and not each.isHidden())


def _opened(panel: QWidget, words: str = "Another group") -> GroupForm:
    QTest.mouseClick(_button(panel, words), Qt.MouseButton.LeftButton)
    return panel.findChildren(GroupForm)[-1]


def _type(form: GroupForm, pigs: str, weight: str, name: str) -> None:
    for line, typed in ((form.pigs, pigs), (form.weight, weight), (form.name, name)):
        line.clear()
        QTest.keyClicks(line, typed)


def _press_add(form: GroupForm) -> str:
    QTest.mouseClick(form.add, Qt.MouseButton.LeftButton)
    return form.accessibleDescription()


def test_a_group_is_added_by_three_answers(stage: Stage, panel: QWidget) -> None:
    form = _opened(panel)
    assert not any(card.isVisible() for card in panel.findChildren(GroupCard))
    _type(form, "12", "40,5", "Porkers")
    assert _press_add(form) == ""
    group = next(each for each in stage.session.farm.groups.values() if each.name == "Porkers")
    weight = live_weight(stage.session.farm, group.uid, TODAY)
    assert (weight.pigs, weight.mean_kg, group.pig_class) == (12, 40.5, PigClass.GROWING)
    assert stage.picked == Picked("groups", group.uid)
    assert [card.words.name for card in panel.findChildren(GroupCard) if not card.isHidden()][-1] == "Porkers"
    assert stage.words(stage.session.undo_label or pytest.fail("nothing to undo")) == "Porkers added."
    undo(stage)
    assert group.uid not in stage.session.farm.groups


def test_the_first_group_goes_in_by_keys_alone(qtbot: QtBot, tmp_path: Path) -> None:
    with made_window(tmp_path, empty=True) as window:
        column = window.panel("groups")
        assert column is not None
        column.setFocus()
        QTest.keyClick(column, Qt.Key.Key_Tab)
        add = window.focusWidget()
        assert isinstance(add, WordButton)
        assert add.accessibleName() == "Add the first group"
        QTest.keyClick(add, Qt.Key.Key_Return)
        for typed in ("8", "200", "Dry sows"):
            line = window.focusWidget()
            assert line is not None
            QTest.keyClicks(line, typed)
            QTest.keyClick(line, Qt.Key.Key_Tab)
        form = column.findChildren(GroupForm)[-1]
        assert window.focusWidget() is form.pig_class
        QTest.keyClicks(form.pig_class, "Dry")
        QTest.keyClick(form.pig_class, Qt.Key.Key_Tab)
        more = window.focusWidget()
        assert isinstance(more, WordButton)
        QTest.keyClick(more, Qt.Key.Key_Space)
        assert window.focusWidget() is form.breed
        QTest.keyClicks(form.breed, "saddleback cross")
        QTest.keyClick(form.breed, Qt.Key.Key_Return)
        (group,) = window.stage.session.farm.groups.values()
        assert (group.name, group.pig_class, group.breed_type) == (
            "Dry sows",
            PigClass.GESTATING,
            "saddleback cross",
        )
        assert window.stage.verb == "pick"  # no letter did what it does elsewhere


@pytest.mark.parametrize(
    ("pigs", "weight", "name", "said", "field"),
    [
        ("", "40", "A", "The number of pigs is not given. Give a number, such as 12.", "pigs"),
        ("0", "40", "A", "The number of pigs is 0. Give a number from 1 to 99999.", "pigs"),
        ("-3", "40", "A", "The number of pigs is -3. Give a number from 1 to 99999.", "pigs"),
        ("few", "40", "A", "The number of pigs is 'few': that is no number. Give a number, such as 12.", "pigs"),
        (
            "8",
            "-4",
            "A",
            "The weight of a pig is -4 kg. Give what one of them weighs, from 0.3 kg to 600 kg.",
            "weight",
        ),
        ("8", "nan", "A", "The weight of a pig is 'nan': that is no number. Give a number, such as 40.", "weight"),
        ("8", "40", " ", "The group has no name. Give it one, such as Dry sows.", "name"),
    ],
)
def test_what_cannot_be_is_said_and_stays_to_be_put_right(
    stage: Stage, panel: QWidget, pigs: str, weight: str, name: str, said: str, field: str
) -> None:
    before = stage.session.farm
    form = _opened(panel)
    _type(form, pigs, weight, name)
    assert _press_add(form) == said
    assert (form.pigs.text(), form.weight.text(), form.name.text()) == (pigs, weight, name)
    assert stage.session.farm is before
    assert form.add.text() == "Add"
    with pytest.raises(MistypedError) as raised:
        given(GroupTyped(pigs, weight, name), "metric")
    assert raised.value.field == field


def test_what_was_said_goes_once_it_is_put_right(stage: Stage, panel: QWidget) -> None:
    form = _opened(panel)
    _type(form, "0", "40", "Runts")
    assert _press_add(form)
    form.pigs.clear()
    QTest.keyClicks(form.pigs, "9")
    assert form.accessibleDescription() == ""
    assert _press_add(form) == ""
    assert [group.name for group in stage.session.farm.groups.values()][-1] == "Runts"


def test_sows_of_four_kilograms_are_asked_for_again_and_added_as_they_are(stage: Stage, panel: QWidget) -> None:
    form = _opened(panel)
    _type(form, "8", "4", "Old sows")
    said = _press_add(form)
    assert said == "4 kg each is light for dry sows. Look at the weight, and at what pigs they are."
    assert form.add.text() == "Add it as it is"
    assert len(stage.session.farm.groups) == 2
    _press_add(form)
    assert [group.name for group in stage.session.farm.groups.values()][-1] == "Old sows"


def test_a_change_after_a_caution_is_looked_at_again(stage: Stage, panel: QWidget) -> None:
    form = _opened(panel)
    QTest.keyClicks(form.pig_class, "Growing")
    _type(form, "8", "300", "Big ones")
    assert "300 kg each is heavy for growing pigs." in _press_add(form)
    QTest.keyClicks(form.weight, "0")
    assert form.add.text() == "Add"
    assert _press_add(form) == ("The weight of a pig is 3000 kg. Give what one of them weighs, from 0.3 kg to 600 kg.")
    assert len(stage.session.farm.groups) == 2


def test_what_pigs_they_are_follows_weight_and_name_until_it_is_chosen(stage: Stage, panel: QWidget) -> None:
    form = _opened(panel)
    _type(form, "8", "210", "The old ones")
    assert form.pig_class.currentText() == "Dry sows"
    form.name.clear()
    QTest.keyClicks(form.name, "Boar")
    assert form.pig_class.currentText() == "Boars"
    QTest.keyClicks(form.pig_class, "Gilts")
    QTest.keyClicks(form.name, "s")
    assert _press_add(form) == ""
    assert list(stage.session.farm.groups.values())[-1].pig_class is PigClass.GILT


def test_what_nobody_weighed_is_said_as_about_what_such_pigs_weigh(stage: Stage, panel: QWidget) -> None:
    form = _opened(panel)
    _type(form, "1", "", "Boar")
    assert _press_add(form) == ""
    (uid,) = [uid for uid, group in stage.session.farm.groups.items() if group.name == "Boar"]
    assert pigs_words(stage, uid) == "1 pig, about 220 kg"
    card = card_of(stage, Picked("groups", uid))
    assert card is not None
    assert ("Weight", "about 220 kg", "as such pigs usually weigh") in [tuple(fact)[:3] for fact in card.facts]


def test_a_name_that_is_taken_is_said(stage: Stage) -> None:
    group = given(GroupTyped("8", "", "Dry sows"), "metric")
    assert [stage.words(each) for each in doubts(stage.session.farm, group, TODAY)] == [
        "There is a group Dry sows already. Another name tells them apart."
    ]


def test_pounds_are_taken_where_pounds_are_shown(stage: Stage) -> None:
    stage.session.do(change_setting("units", "us")).result()
    assert given(GroupTyped("8", "100", "A"), stage.units).mean_kg == pytest.approx(45.36, abs=0.01)


def test_escape_brings_the_cards_back_and_the_keys_to_where_they_were(stage: Stage, panel: QWidget) -> None:
    form = _opened(panel)
    QTest.keyClicks(form.pigs, "8")
    QTest.keyClick(form.pigs, Qt.Key.Key_Escape)
    QApplication.processEvents()
    assert not form.isVisible()
    assert [card.isVisible() for card in panel.findChildren(GroupCard)] == [True, True]
    assert len(stage.session.farm.groups) == 2


def test_a_group_that_is_typed_on_a_day_to_come_is_there_from_today(stage: Stage, panel: QWidget) -> None:
    stage.show_day(day(9))
    form = _opened(panel)
    _type(form, "8", "40", "Late")
    _press_add(form)
    assert max(event.happened_on for event in stage.session.farm.group_events.values()) == TODAY


@pytest.mark.parametrize("room", ["usual", "small", "narrow"])
def test_all_of_it_is_within_reach_in_every_room(stage: Stage, panel: QWidget, room: str) -> None:
    stage.fit(Room(room, 300))
    form = _opened(panel)
    assert form.add.height() >= 44
    assert form.rect().contains(form.add.geometry())
    inside = form.parentWidget()
    assert inside is not None
    assert inside.rect().contains(form.geometry())


def test_what_is_said_is_seen_where_the_room_is_low(stage: Stage) -> None:
    with made_panel(stage, "groups", (300, 260)) as panel:
        form = _opened(panel)
        QTest.keyClicks(form.pig_class, "Growing")
        _type(form, "8", "300", "Big ones")
        _press_add(form)
        top = form.add.mapTo(panel, form.add.rect().topLeft()).y()
        assert 0 <= top <= panel.height() - form.add.height()


def test_what_is_odd_is_added_by_its_button_alone_and_not_by_a_second_enter(stage: Stage, panel: QWidget) -> None:
    form, groups = _opened(panel), len(stage.session.farm.groups)
    _type(form, "8", "4", "Old sows")
    form.weight.setFocus()
    for _ in range(3):
        QTest.keyClick(form.weight, Qt.Key.Key_Return)
    assert "4 kg each is light for" in form.accessibleDescription()
    assert form.add.text() == "Add it as it is"
    form.name.setFocus()
    QTest.keyClick(form.name, Qt.Key.Key_Return)
    assert len(stage.session.farm.groups) == groups
    form._look_again()
    form.add.setFocus()
    QTest.keyClick(form.add, Qt.Key.Key_Return)
    assert panel.window().focusWidget() is form.weight
    QTest.keyClick(form.add, Qt.Key.Key_Return)
    assert len(stage.session.farm.groups) == groups + 1


def test_what_made_it_these_pigs_is_said(stage: Stage, panel: QWidget) -> None:
    form = _opened(panel)
    said = []
    for typed in (("8", "", "Big ones"), ("8", "85", "Big ones"), ("8", "85", "Old boars")):
        _type(form, *typed)
        said.append((form.pig_class.accessibleName(), form.pig_class.currentText()))
    assert said == [
        ("What pigs", "Growing pigs"),
        ("What pigs (by the weight)", "Finishing pigs"),
        ("What pigs (by the name)", "Boars"),
    ]


def test_the_card_of_another_group_closes_while_a_new_one_is_typed(stage: Stage, panel: QWidget) -> None:
    stage.pick(Picked("groups", "group0"))
    _opened(panel)
    assert stage.picked is None


def test_a_farm_that_cannot_be_written_takes_no_group(stage: Stage, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(stage.session, "read_only", Text("Only to be read."))
    with made_panel(stage, "groups") as panel:
        assert [each.text() for each in panel.findChildren(WordButton) if not each.isHidden()] == []


def test_feed_and_water_are_told_with_a_new_group_under_more(stage: Stage, panel: QWidget) -> None:
    form = _opened(panel)
    _type(form, "12", "40", "Porkers")
    form.kept["tank"].setText("300 L")
    assert _press_add(form) == ("The water carried to them is '300 L': that is no number. Give a number, such as 300.")
    form.kept["tank"].setText("300")
    form.kept["target"].setText("110")
    _press_add(form)
    group = next(each for each in stage.session.farm.groups.values() if each.name == "Porkers")
    assert (group.tank_l, group.target_kg, group.drinkers) == (300.0, 110.0, None)
    stage.session.undo().result()
    assert group.uid not in stage.session.farm.groups
