from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import cast

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.animals import sources
from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.card_facts import Fact
from pigmap.builtin.panels.group_words import group_words
from pigmap.builtin.panels.kept_form import KeptForm
from pigmap.builtin.panels.kept_typed import KeptTyped, kept_of
from pigmap.builtin.panels.lasts_facts import lasts_facts
from pigmap.builtin.panels.needs_facts import hot_facts, needs_cares, needs_facts
from pigmap.builtin.panels.needs_form import NeedsForm
from pigmap.builtin.panels.other_facts import card_of
from pigmap.builtin.panels.own_days_form import OwnDaysForm
from pigmap.builtin.panels.own_days_typed import OwnDaysTyped, own_days_words, typed_days
from pigmap.document.edits import amend, change_setting, keep_pace, remove
from pigmap.document.edits.own_days import say_days
from pigmap.errors import EditError
from pigmap.qt.stage import Picked, Stage
from pigmap.qt.whereabouts import book_of
from pigmap.records import Edit, Group, GroupEvent, GroupEventKind, OwnDays, PigClass, Record, Use, WeatherDay, add
from pigmap.records.keepers_days import own_days_of
from pigmap.text import Text, source
from tests.qt.window_farm import day, made_panel, made_stage

SOURCES = {str(text) for each in (source, sources) for name, text in vars(each).items() if name.isupper()}


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def card(stage: Stage) -> Iterator[Card]:
    with made_panel(stage, "card", (360, 600)) as made:
        stage.pick(Picked("groups", "group0"))
        yield cast("Card", made)


def group(stage: Stage) -> Group:
    return stage.session.farm.groups["group0"]


def put(stage: Stage, *rows: Record) -> None:
    stage.session.do(Edit(Text("Put."), lambda farm: [add(row) for row in rows])).result()


def kept(stage: Stage, **columns: object) -> None:
    stage.session.do(amend("groups", "group0", **columns)).result()


def row(facts: list[Fact], label: str) -> Fact:
    return next(each for each in facts if each.label == label)


def form_of(card: Card) -> NeedsForm | OwnDaysForm | KeptForm:
    QApplication.processEvents()
    assert card._form is not None
    return cast("NeedsForm | OwnDaysForm | KeptForm", card._form.form)


def opened(card: Card, deed: str = "") -> NeedsForm | OwnDaysForm | KeptForm:
    card._do("needs")
    if deed:
        cast("NeedsForm", form_of(card)).asks.emit(deed)
    return form_of(card)


# What the rows say


def test_a_group_is_told_what_it_needs_with_sources_that_exist(stage: Stage) -> None:
    kept(stage, tank_l=200.0, feeder_kg=100.0, target_kg=110.0, pig_class=PigClass.FINISHING)
    facts = needs_facts(stage, group(stage))
    labels = [each.label for each in facts]
    assert labels[:5] == ["A paddock", "Who leads", "By rooting", "By nitrogen", "A winter"]
    assert labels[6:] == [
        *("Feed", "Feeder", "Water", "Tank", "Drinkers", "Wallow", "Shade", "Hut", "Laid down", "Animal units"),
    ]
    units = ("1,000 lb of live weight", "US", "Illinois", "EU livestock units")
    for each in facts:
        assert each.why is not None
        assert each.why.words.endswith("."), each
        assert any(words in each.why.source for words in (*SOURCES, *units)), each.why.source


def test_figures_are_said_as_a_keeper_says_them(stage: Stage) -> None:
    kept(stage, tank_l=200.0, feeder_kg=100.0, feed_kg=2.5, drinkers=1)
    facts = needs_facts(stage, group(stage))
    assert row(facts, "Feed")[:3] == ("Feed", "20 kg a day", "2.5 kg each")
    assert row(facts, "Feeder")[:3] == ("Feeder", "lasts 5 days", "enough for a stay")
    assert row(facts, "Water")[:3] == ("Water", "91 L a day", "182 L in hot weather")
    assert row(facts, "Tank")[:3] == ("Tank", "empty in 2.2 days", "1.1 days in hot weather")
    assert row(facts, "Drinkers")[:3] == ("Drinkers", "2 wanted", "1 there")
    assert row(facts, "Shade")[:3] == ("Shade", "11 to 15 m²", "1.90 m² each")
    assert row(facts, "Laid down")[:3] == ("Laid down", "0.39 kg of N a day", "0.07 kg of P")
    assert row(facts, "Animal units")[:3] == ("Animal units", "1.4", "of 1,000 lb of live weight")


def test_in_us_units_there_are_gallons_and_pounds(stage: Stage) -> None:
    stage.session.do(change_setting("units", "us")).result()
    facts = needs_facts(stage, group(stage))
    assert row(facts, "Water").figure == "24 gal a day"
    assert row(facts, "Feed").figure == "44 lb a day"


def test_the_keepers_days_lead_and_rooting_and_nitrogen_stand_beneath(stage: Stage) -> None:
    facts = lasts_facts(stage, group(stage))
    assert row(facts, "A paddock")[:3] == ("A paddock", "5 days", "as your last stays")
    put(stage, OwnDays(uid="own", group_uid="group0", days=14.0))
    facts = lasts_facts(stage, group(stage))
    assert row(facts, "A paddock")[:3] == ("A paddock", "14 days", "your own days")
    assert row(facts, "By rooting").rests_on.endswith("rough")
    reason = row(facts, "A paddock").why
    assert reason is not None
    assert "Rooting would come first, after " in reason.words


def test_a_group_that_is_nowhere_has_no_paddock_that_lasts(stage: Stage) -> None:
    for uid in [uid for uid, stay in stage.session.farm.stays.items() if stay.group_uid == "group0"]:
        stage.session.do(remove("stays", uid)).result()
    assert lasts_facts(stage, group(stage)) == []


def test_a_group_without_pigs_needs_nothing(stage: Stage) -> None:
    stage.session.do(remove("group_events", "group0in")).result()
    assert needs_facts(stage, group(stage)) == []


def test_a_weight_to_come_to_is_told_as_a_range_of_days(stage: Stage) -> None:
    kept(stage, target_kg=110.0, pig_class=PigClass.FINISHING)
    weighed = GroupEvent(uid="w", group_uid="group0", happened_on=day(0), kind=GroupEventKind.WEIGHED, mean_kg=100.0)
    put(stage, weighed)
    found = row(needs_facts(stage, group(stage)), "110 kg each")
    assert " to " in found.rests_on
    kept(stage, pig_class=PigClass.GESTATING)
    assert row(needs_facts(stage, group(stage)), "110 kg each").figure == "not in sight"


def test_weights_that_fell_and_newcomers_want_care(stage: Stage) -> None:
    kept(stage, pig_class=PigClass.FINISHING)
    fell = GroupEvent(uid="w", group_uid="group0", happened_on=day(-3), kind=GroupEventKind.WEIGHED, mean_kg=70.0)
    came = GroupEvent(uid="c", group_uid="group0", happened_on=day(-2), kind=GroupEventKind.BOUGHT, pigs=2)
    assert needs_cares(stage, group(stage)) == ()
    put(stage, fell, came)
    said = needs_cares(stage, group(stage))
    assert said[0].startswith("Dry sows weighed 70.0 kg on ")
    assert said[1].startswith("Newcomers: keep them apart until ")
    assert said[2].endswith("local rules come first.")


def test_a_hot_day_is_a_row_of_the_card_with_what_to_do(stage: Stage) -> None:
    assert hot_facts(stage, group(stage)) == []
    put(stage, WeatherDay(uid="hot", day=stage.day + timedelta(days=1), max_c=33.0, min_c=18.0, humidity_pct=50.0))
    (fact,) = hot_facts(stage, group(stage))
    assert fact.figure.startswith("33 °C on ")
    assert fact.why is not None
    facts_of_it = needs_facts(stage, group(stage))
    assert row(facts_of_it, "By warmth").figure == "very hot"
    assert row(facts_of_it, "With humidity")[1:3] == ("danger", "82")
    reason = row(facts_of_it, "With humidity").why
    assert reason is not None
    assert reason.words.startswith("With 50 % humidity the index of both is 82: danger.")
    assert "call a vet" in fact.why.words
    facts = card_of(stage, Picked("groups", "group0"))
    assert facts is not None
    assert [each.label for each in facts.facts][:3] == ["Pigs", "Weight", "Hot weather"]


def test_a_hot_day_is_a_care_on_the_cards_of_that_day_and_not_of_past_ones(stage: Stage) -> None:
    put(stage, *(WeatherDay(uid=f"hot{at}", day=stage.day + timedelta(days=at), max_c=30.0) for at in (-1, 0)))
    book = book_of(stage.session.farm, stage.today)
    assert "Hot, 30 °C: water and shade" in group_words(stage, book, group(stage)).cares
    stage.show_day(stage.day - timedelta(days=1))
    assert not [words for words in group_words(stage, book, group(stage)).cares if words.startswith("Hot")]


def test_pigs_before_are_told_on_the_card_of_a_paddock_apart_from_its_rest(stage: Stage) -> None:
    facts = card_of(stage, Picked("paddocks", "group0p0"))
    assert facts is not None
    before = row(list(facts.facts), "Pigs before")
    assert (before.figure, before.rests_on) == ("Wed 6 May 2026", "roundworm may be there")
    assert before.why is not None
    assert "rest brings back the grass, not clean ground" in before.why.words
    here = card_of(stage, Picked("paddocks", "group0p2"))
    assert here is not None
    assert row(list(here.facts), "Pigs before")[1:3] == ("not known", "for 9 years back")


def test_too_few_drinkers_are_a_care_on_the_card(stage: Stage) -> None:
    kept(stage, drinkers=1)
    facts = card_of(stage, Picked("groups", "group0"))
    assert facts is not None
    assert "Drinkers: 1 there, 2 wanted for 8 pigs" in facts.warnings
    kept(stage, drinkers=2)
    facts = card_of(stage, Picked("groups", "group0"))
    assert facts is not None
    assert not [words for words in facts.warnings if words.startswith("Drinkers")]


# The forms


def test_the_needs_stand_in_the_cards_place_and_esc_leads_back(stage: Stage, card: Card) -> None:
    form = opened(card)
    assert isinstance(form, NeedsForm)
    assert form.body.hasFocus() or form.first is form.body
    assert [button.text() for button in form.buttons] == ["Days a paddock lasts", "Feed and water", "Done"]
    assert all(button.accessibleName() for button in form.buttons)
    QTest.keyClick(form, Qt.Key.Key_Escape)
    assert card._form is None


def test_own_days_are_typed_and_lead_from_then_on(stage: Stage, card: Card) -> None:
    form = opened(card, "days")
    assert isinstance(form, OwnDaysForm)
    form.days.setText("3,5")
    form.purpose.setCurrentIndex(form.purpose.findData(Use.GRAZE_LIGHTLY))
    form.first_day.setText("1 Mar")
    form.last_day.setText("10-31")
    form.take_it()
    QTest.qWait(50)
    (own,) = own_days_of(stage.session.farm, "group0")
    assert (own.days, own.purpose, own.from_month_day, own.to_month_day) == (3.5, Use.GRAZE_LIGHTLY, "03-01", "10-31")
    assert own_days_words(stage, own) == "3.5 days; graze lightly; 1 Mar to 31 Oct"
    assert isinstance(form_of(card), NeedsForm)
    again = opened_again(card)
    assert again.which.currentData() == own.uid
    assert again.days.text() == "3.5"
    again.days.clear()
    again.take_it()
    QTest.qWait(50)
    assert own_days_of(stage.session.farm, "group0") == []


def opened_again(card: Card) -> OwnDaysForm:
    cast("NeedsForm", form_of(card)).asks.emit("days")
    return cast("OwnDaysForm", form_of(card))


@pytest.mark.parametrize(
    ("typed", "message", "remedy"),
    [
        (OwnDaysTyped(""), "No days are typed.", "Type how many days a paddock lasts them, such as 5."),
        (OwnDaysTyped("0"), "A paddock lasts 0 days.", "Give a number from 0.25 to 366."),
        (OwnDaysTyped("many"), "The days a paddock lasts is 'many': that is no number.", "Give a number, such as 5."),
        (
            OwnDaysTyped("5", None, "1 Nov"),
            "A part of the year has one day only.",
            "Type its first and its last day, such as 1 Nov and 31 Mar, or leave both empty.",
        ),
        (
            OwnDaysTyped("5", None, "soon", "later"),
            "soon is not a day of the year.",
            "Give day and month, such as 16 March or 03-16.",
        ),
    ],
)
def test_days_that_cannot_be_are_said(typed: OwnDaysTyped, message: str, remedy: str) -> None:
    with pytest.raises(EditError) as raised:
        typed.edit("group0", "", "en")
    assert (str(raised.value.message), str(raised.value.remedy)) == (message, remedy)


def test_days_that_the_farm_has_taught_can_be_taken(stage: Stage, card: Card) -> None:
    form = opened(card, "days")
    assert isinstance(form, OwnDaysForm)
    assert form.learned is None
    stage.session.do(keep_pace(loss=0.2, regrowth=0.0065)).result()
    form = opened(card, "days")
    assert isinstance(form, OwnDaysForm)
    assert form.learned is not None
    form.learned.click()
    assert form.learned.text() == f"Take {form.days.text()} days, as this farm has taught"
    form.take_it()
    QTest.qWait(50)
    assert len(own_days_of(stage.session.farm, "group0")) == 1


def test_days_said_again_for_the_same_put_the_first_right(stage: Stage) -> None:
    for days in (5.0, 6.0):
        stage.session.do(say_days(days, group_uid="group0", purpose=Use.TURN_OVER)).result()
    (own,) = own_days_of(stage.session.farm, "group0")
    assert own.days == 6.0
    assert typed_days("0,25") == 0.25


def test_how_a_group_is_kept_is_typed_and_shown_again(stage: Stage, card: Card) -> None:
    form = opened(card, "kept")
    assert isinstance(form, KeptForm)
    assert form.lines["target"].isHidden()
    form._show_more(True)
    form.lines["tank"].setText("300")
    form.lines["drinkers"].setText("3")
    form.lines["feed"].setText("2,6")
    form.lines["protein"].setText("15 %")
    form.lines["target"].setText("110")
    form.ringed.setCurrentIndex(1)
    form.take_it()
    QTest.qWait(50)
    now = group(stage)
    assert (now.tank_l, now.drinkers, now.feed_kg, now.feed_protein_g_kg, now.target_kg) == (
        300.0,
        3,
        2.6,
        150.0,
        110.0,
    )
    assert now.ringed
    assert now.feed_share is None
    assert kept_of(now, "metric") == KeptTyped("300", "3", "", "2.6", "", "15", "110", True)
    assert kept_of(now, "us").tank == "79.25"


def test_whose_figures_of_nitrogen_count_is_chosen_for_the_farm(stage: Stage, card: Card) -> None:
    form = opened(card, "kept")
    assert isinstance(form, KeptForm)
    assert form.manure.currentText() == "UK rules of 2008, by weight"
    form.manure.setCurrentIndex(form.manure.findText("ASABE, from memory"))
    form.take_it()
    QTest.qWait(50)
    assert stage.session.farm.setting("manure source") == "ASABE D384.2"
    assert row(needs_facts(stage, group(stage)), "Laid down").figure == "0.26 kg of N a day"


@pytest.mark.parametrize(
    ("typed", "message", "remedy"),
    [
        (KeptTyped(tank="-3"), "The water carried to them is -3.", "Give a number of at least 0."),
        (KeptTyped(drinkers="two"), "The number of drinkers is 'two': that is no number.", "Give a number, such as 2."),
        (KeptTyped(feed="lots"), "The feed of one pig is 'lots': that is no number.", "Give a number, such as 2.5."),
    ],
)
def test_what_cannot_be_of_feed_and_water_is_said(typed: KeptTyped, message: str, remedy: str) -> None:
    with pytest.raises(EditError) as raised:
        typed.columns("metric")
    assert (str(raised.value.message), str(raised.value.remedy)) == (message, remedy)


def test_us_figures_are_kept_in_kilograms_and_litres() -> None:
    columns = KeptTyped(tank="100", feeder="220", target="250", share="80").columns("us")
    assert columns["tank_l"] == pytest.approx(378.5, abs=0.1)
    assert columns["feeder_kg"] == pytest.approx(99.8, abs=0.1)
    assert columns["target_kg"] == pytest.approx(113.4, abs=0.1)
    assert columns["feed_share"] == pytest.approx(0.8)


def test_what_the_records_refuse_stays_typed(stage: Stage, card: Card) -> None:
    form = opened(card, "kept")
    assert isinstance(form, KeptForm)
    form.lines["share"].setText("300")
    form.take_it()
    QTest.qWait(50)
    assert group(stage).feed_share is None
