from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.check import DailyCheck
from pigmap.builtin.panels.check_typed import CheckTyped, given
from pigmap.builtin.panels.group_typed import MistypedError
from pigmap.builtin.panels.paddock_facts import paddock_card
from pigmap.qt.paintwork import breadth
from pigmap.qt.stage import Notice, Picked, Stage
from pigmap.qt.theme import font
from pigmap.records import Check, Edit, Energizer, add
from pigmap.text import Text
from tests.qt.window_farm import day, made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def panel(stage: Stage) -> Iterator[DailyCheck]:
    with made_panel(stage, "check", (292, 760)) as made:
        assert isinstance(made, DailyCheck)
        stage.pick(Picked("groups", "group1"))
        stage.take_up("check")
        yield made


@pytest.fixture
def said(stage: Stage) -> list[Notice]:
    found: list[Notice] = []
    stage.noticed.connect(found.append)
    return found


def checks_of(stage: Stage, group_uid: str = "group1") -> list[Check]:
    return [
        each for each in stage.session.farm.checks.values() if each.group_uid == group_uid and each.checked_on == day(0)
    ]


def test_readings_are_recorded_for_the_picked_group_and_the_rest_stays_unsaid(panel: DailyCheck, stage: Stage) -> None:
    QTest.keyClicks(panel.form.kv, "5,8")
    panel.record.click()
    (check,) = checks_of(stage)
    assert (check.fence_kv, check.pigs_seen, check.water_ok, check.rooting_score) == (5.8, None, None, None)
    assert panel.form.kv.text() == ""


def test_whoever_picks_a_group_types_its_reading_at_once(panel: DailyCheck, stage: Stage) -> None:
    panel.activateWindow()
    panel.setFocus()
    stage.pick(Picked("groups", "group0"))
    assert panel.window().focusWidget() is panel.form.kv


def test_enter_in_a_line_records(panel: DailyCheck, stage: Stage) -> None:
    QTest.keyClicks(panel.form.pigs, "8")
    panel.form.pigs.returnPressed.emit()
    assert [check.pigs_seen for check in checks_of(stage)] == [8]


def test_more_pigs_than_there_are_go_in_and_are_said(panel: DailyCheck, stage: Stage, said: list[Notice]) -> None:
    QTest.keyClicks(panel.form.pigs, "30")
    panel.record.click()
    assert [check.pigs_seen for check in checks_of(stage)] == [30]
    assert said[-1].kind == "care"
    assert "30 pigs counted, and the group has 8. Count again, or put the group right." in stage.words(said[-1].text)


@pytest.mark.parametrize(
    ("typed", "words", "field"),
    [
        (CheckTyped(kv="99"), "The voltage is 99 kV. Give what the tester says, from 0 kV to 20 kV.", "kv"),
        (CheckTyped(kv="-1"), "The voltage is -1 kV. Give what the tester says, from 0 kV to 20 kV.", "kv"),
        (CheckTyped(kv="high"), "The voltage is 'high': that is no number. Give a number, such as 5.5.", "kv"),
        (
            CheckTyped(lights="40"),
            "The number of lights on the tester is 40. Give a number from 0 to 20.",
            "lights",
        ),
        (CheckTyped(pigs="-2"), "The number of pigs counted is -2. Give a number from 0 to 99999.", "pigs"),
        (
            CheckTyped(pigs="all"),
            "The number of pigs counted is 'all': that is no number. Give a number, such as 12.",
            "pigs",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_words(typed: CheckTyped, words: str, field: str) -> None:
    with pytest.raises(MistypedError) as raised:
        given(typed)
    assert str(raised.value) == words
    assert raised.value.field == field


def test_what_cannot_be_stays_typed_to_be_put_right(panel: DailyCheck, stage: Stage) -> None:
    QTest.keyClicks(panel.form.kv, "99")
    panel.record.click()
    assert panel.said.text().startswith("The voltage is 99.0 kV.")
    assert panel.form.kv.text() == "99"
    assert checks_of(stage) == []


def test_an_empty_check_says_what_to_do(panel: DailyCheck, stage: Stage) -> None:
    panel.record.click()
    assert panel.said.text() == "Nothing is filled in. Give one reading, or say that all is well."
    assert checks_of(stage) == []


def test_all_well_is_recorded_for_all_that_were_not_checked_and_undone_at_once(panel: DailyCheck, stage: Stage) -> None:
    before = dict(stage.session.farm.checks)
    left = panel._unchecked()
    assert left
    panel.well.button.click()
    assert panel._unchecked() == []
    assert not panel.well.button.isVisible()
    stage.session.undo().result()
    assert dict(stage.session.farm.checks) == before


def test_a_group_that_is_marked_is_left_out_and_its_readings_are_asked(panel: DailyCheck, stage: Stage) -> None:
    assert panel.well.button.text() == "All well with 2 groups"
    mark = panel.well.marks[0]
    assert mark.accessibleName() == "but not with Dry sows"
    mark.click()
    assert panel.well.button.text() == "All well with Weaners"
    assert stage.picked == Picked("groups", "group0")
    panel.well.button.click()
    assert [group.uid for group, _paddock in panel._unchecked()] == ["group0"]
    assert not checks_of(stage, "group0")
    assert [check.all_well for check in checks_of(stage)] == [True]


def test_a_mark_is_taken_back_by_a_second_touch_and_goes_with_the_day(panel: DailyCheck, stage: Stage) -> None:
    for mark in panel.well.marks:
        mark.click()
    assert not panel.well.button.isEnabled()
    panel.well.marks[1].click()
    assert panel.well.button.text() == "All well with Weaners"
    stage.show_day(day(-1))
    stage.show_day(day(0))
    assert panel.well.button.text() == "All well with 2 groups"


def test_what_is_typed_for_a_group_stays_with_it(panel: DailyCheck, stage: Stage) -> None:
    QTest.keyClicks(panel.form.kv, "3.1")
    panel.form.water.choose(1)
    stage.pick(Picked("groups", "group0"))
    assert panel.form.kv.text() == ""
    assert panel.form.water.chosen is None
    QTest.keyClicks(panel.form.kv, "6")
    stage.pick(Picked("groups", "group1"))
    assert panel.form.kv.text() == "3.1"
    assert panel.form.water.chosen == 1
    panel.record.click()
    assert [(check.fence_kv, check.water_ok) for check in checks_of(stage)] == [(3.1, False)]
    assert panel.form.kv.text() == "6"


def test_ground_too_rooted_offers_to_go_tomorrow(panel: DailyCheck, stage: Stage, said: list[Notice]) -> None:
    panel.form.rooting.choose(4)
    panel.record.click()
    assert "more than is welcome here" in stage.words(said[-1].text)
    assert panel.tomorrow.isVisible()
    stay_uid = panel._stay_uid
    panel.tomorrow.click()
    assert stage.session.farm.stays[stay_uid].out_on == stage.today + timedelta(days=1)


def test_what_is_pressed_is_recorded_in_the_paddock_beside_its_name(panel: DailyCheck, stage: Stage) -> None:
    panel.form.water.buttons[1].click()
    panel.form.net.buttons[0].click()
    QTest.keyClick(panel.form.rooting.buttons[0], Qt.Key.Key_3)
    QTest.keyClicks(panel.form.lights, "6")
    panel.record.click()
    (check,) = checks_of(stage)
    assert (check.water_ok, check.soil_on_net, check.rooting_score, check.tester_lights) == (False, False, 2, 6)
    assert check.point is not None
    outline = stage.session.farm.paddocks[check.paddock_uid].outline
    assert check.point.within(outline)
    assert check.point.distance(outline.centroid) > 10.0
    assert panel.form.water.chosen is panel.form.net.chosen is panel.form.rooting.chosen is None


def test_what_was_pressed_by_mistake_is_unsaid_when_pressed_again(panel: DailyCheck) -> None:
    panel.form.water.buttons[0].click()
    assert panel.form.water.chosen == 0
    panel.form.water.buttons[0].click()
    assert panel.form.water.chosen is None


def test_water_and_soil_say_what_to_do(panel: DailyCheck, stage: Stage, said: list[Notice]) -> None:
    panel.form.water.choose(1)
    panel.form.net.choose(1)
    panel.record.click()
    words = stage.words(said[-1].text)
    assert "Water was not well: see to it first." in words
    assert "Soil on the bottom strand: clear it, with the energizer off." in words


def test_the_reading_that_was_recorded_last_is_the_one_that_is_told(panel: DailyCheck, stage: Stage) -> None:
    for kv in ("5.1", "6.2"):
        stage.pick(Picked("groups", "group1"))
        QTest.keyClicks(panel.form.kv, kv)
        panel.record.click()
    stage.pick(Picked("groups", "group1"))
    assert panel._where.text() == "Last: 6.2 kV today"


def test_a_reading_of_today_is_told_after_one_that_a_file_brought_with_a_later_name(
    panel: DailyCheck, stage: Stage
) -> None:
    brought = Check(uid="zz", checked_on=day(0), paddock_uid="group1p2", group_uid="group1", fence_kv=4.4)
    stage.session.do(Edit(Text("Brought."), lambda _farm: [add(brought)])).result()
    QTest.keyClicks(panel.form.kv, "6.2")
    panel.record.click()
    stage.pick(Picked("groups", "group1"))
    assert panel._where.text() == "Last: 6.2 kV today"
    card = paddock_card(stage, stage.session.farm.paddocks["group1p2"])
    assert [fact.figure for fact in card.facts if fact.label == "Checked"] == ["6.2 kV today"]


def test_how_many_pigs_there_should_be_is_asked_beside(panel: DailyCheck) -> None:
    assert panel.form.pigs.accessibleName() == "Pigs, of 8"


def test_a_day_to_come_takes_no_check(panel: DailyCheck, stage: Stage) -> None:
    stage.show_day(day(2))
    assert panel.said.text() == "This day is to come. Go back to today to record a check."
    assert not panel.record.isEnabled()


def test_the_reading_that_is_typed_is_in_sight_in_a_low_panel(panel: DailyCheck) -> None:
    panel.activateWindow()
    panel.form.kv.setFocus()
    panel.resize(900, 300)
    QApplication.processEvents()
    line = panel.form.kv
    shown = panel._scroll.viewport().rect()
    assert shown.contains(line.rect().translated(line.mapTo(panel._scroll.viewport(), line.rect().topLeft())))


def test_a_reading_that_is_not_what_it_should_be_says_what_to_look_at_first(
    panel: DailyCheck, stage: Stage, said: list[Notice]
) -> None:
    unit = Energizer(uid="unit", name="Shed", output_j=1.0)
    stage.session.do(Edit(Text("Told."), lambda farm: [add(unit)])).result()
    QTest.keyClicks(panel.form.kv, "6.5")
    panel.record.click()
    assert said[-1].kind == "done"
    stage.pick(Picked("groups", "group1"))
    QTest.keyClicks(panel.form.kv, "2.0")
    panel.record.click()
    assert said[-1].kind == "care"
    words = stage.words(said[-1].text)
    assert "Lower than long grass alone would make it." in words
    assert words.endswith("Walk the fence: the bottom strand first, then the clips, then the earth stakes.")
    stage.pick(Picked("groups", "group1"))
    QTest.keyClicks(panel.form.kv, "2.0")
    panel.form.net.choose(1)
    panel.record.click()
    soil = stage.words(said[-1].text)
    assert soil.endswith("Soil on the bottom strand: clear it, with the energizer off.")
    assert "Lower than" not in soil


@pytest.mark.parametrize("high", [420, 1200])
def test_what_records_stands_below_the_last_line_and_is_always_in_sight(stage: Stage, high: int) -> None:
    with made_panel(stage, "check", (292, high)) as panel:
        stage.take_up("check")
        QApplication.processEvents()
        assert isinstance(panel, DailyCheck)
        record = panel.record
        last = panel.photos.add
        below = record.mapTo(panel, QPoint(0, 0)).y() - last.mapTo(panel, QPoint(0, last.height())).y()
        assert record.mapTo(panel, QPoint(0, record.height())).y() <= high
        assert high == 420 or 0 <= below < 40


def test_what_the_lights_are_is_said(panel: DailyCheck) -> None:
    lights = panel.form.lights
    assert lights.accessibleName() == "How many lights of the tester shine, where it shows no volts"
    assert lights.placeholderText() == "4"


def test_each_word_for_what_is_rooted_has_room_in_its_frame(panel: DailyCheck) -> None:
    panel.grab()
    face = font("tick", panel.stage)
    for button in panel.form.rooting.buttons:
        longest = max(breadth(words, face) for words in button.text().split(" "))
        assert button.width() >= longest + 6, button.text()
