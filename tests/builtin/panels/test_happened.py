"""What happened to a group is told in its card's place, shown on the card, put right, and taken back."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.animals.weight import live_weight
from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.card_field import CardField
from pigmap.builtin.panels.happened_edit import AT_PADDOCK, NEW_GROUP, ON_MAP, WITH_SOWS, YES, edit_of
from pigmap.builtin.panels.happened_form import HappenedForm
from pigmap.builtin.panels.happened_kept import kept_of, take_out
from pigmap.builtin.panels.happened_lines import LINES, SAID, What
from pigmap.builtin.panels.happened_typed import Typed
from pigmap.builtin.panels.other_facts import card_of
from pigmap.document.edits import add_group, book_slaughter, farrow, pigs_bought, pigs_sold, serve, treat
from pigmap.errors import EditError, PigmapError
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.stage import Picked, Stage
from pigmap.records import Edit
from tests.builtin.panels.test_weigh_form import comes
from tests.qt.window_farm import TODAY, made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def card(stage: Stage) -> Iterator[Card]:
    with made_panel(stage, "card", (360, 700)) as made:
        assert isinstance(made, Card)
        yield made


def opened(stage: Stage, card: Card) -> HappenedForm:
    stage.pick(Picked("groups", "group0"))
    card._do("happened")
    QApplication.processEvents()
    return card.findChildren(HappenedForm)[-1]


def do(stage: Stage, *edits: Edit) -> None:
    for edit in edits:
        stage.session.do(edit).result()
    QApplication.processEvents()


def facts(stage: Stage, group_uid: str = "group0") -> dict[str, tuple[str, str]]:
    found = card_of(stage, Picked("groups", group_uid))
    assert found is not None
    return {fact.label: (fact.figure, fact.rests_on) for fact in found.facts}


def fill(form: HappenedForm, **lines: str) -> None:
    for key, typed in lines.items():
        line = form.lines[key]
        if isinstance(line, ChoiceBox):
            line.setCurrentIndex(line.findData(typed))
        else:
            line.setText(typed)


def told(stage: Stage, what: What, **lines: str) -> Any:
    farm = stage.session.farm
    return edit_of(what, farm, farm.groups["group0"], Typed(lines, "metric", TODAY))


def refusal(stage: Stage, what: What, **lines: str) -> str:
    with pytest.raises(PigmapError) as found:
        told(stage, what, **lines)
    return str(found.value)


def test_a_treatment_is_told_with_keys_alone(stage: Stage, card: Card) -> None:
    form = opened(stage, card)
    product = form.lines["product"]
    product.setFocus()
    QTest.keyClicks(product, "Wormer")
    fill(form, withdrawal="28")
    QTest.keyClick(product, Qt.Key.Key_Return)
    assert comes(lambda: bool(stage.session.farm.treatments))
    assert facts(stage)["Withdrawal"] == ("free on Thu 11 Jun", "Wormer")
    assert comes(lambda: stage.session.undo_label is not None)
    stage.session.undo().result()
    assert "Withdrawal" not in facts(stage)


def test_every_line_of_every_form_is_named_and_can_be_reached(stage: Stage, card: Card) -> None:
    do(stage, book_slaughter(TODAY, group_uid="group0", uid="b"))
    form = opened(stage, card)
    for what in SAID:
        form.choose(what)
        assert list(form.lines) == [line.key for line in LINES[what]]
        for line in form.lines.values():
            assert line.accessibleName()
            assert line.focusPolicy() & Qt.FocusPolicy.TabFocus


def test_what_is_asked_seldom_is_under_more(stage: Stage, card: Card) -> None:
    form = opened(stage, card)
    assert not form.lines["batch"].isVisible()
    form.more.click()
    assert form.lines["batch"].isVisibleTo(form)
    form.choose(What.BORN)
    assert not form.more.isVisibleTo(form)


def test_what_is_most_likely_told_is_asked_first(stage: Stage, card: Card) -> None:
    assert opened(stage, card).told is What.TREATED
    do(stage, serve("group0", "Berta", None, due_on=TODAY))
    form = opened(stage, card)
    assert (form.told, form.lines["sow"].text()) == (What.FARROWED, "Berta")  # type: ignore[union-attr]
    do(stage, book_slaughter(TODAY, group_uid="group0", pigs=2, uid="b"))
    form = opened(stage, card)
    assert (form.told, form.typed().words("pigs"), form.typed().chosen("booking")) == (What.WENT, "2", "b")


def test_what_cannot_be_stays_typed_and_is_said(stage: Stage, card: Card) -> None:
    form = opened(stage, card)
    fill(form, day="2026-02-30", product="Wormer")
    form.take_it()
    assert "2026-02-30 is not a day of the calendar. Give year, month and day" in form.said.text()
    assert form.typed().words("product") == "Wormer"
    assert not stage.session.farm.treatments


def test_what_has_to_be_told_is_asked_for_in_words(stage: Stage) -> None:
    assert refusal(stage, What.TREATED) == "The medicine is not told. Give the name on its label."
    assert refusal(stage, What.SERVED, served="2026-05-01") == (
        "Which sow it was is not told. Give her name, tag or mark."
    )
    assert refusal(stage, What.WENT, booking="b") == (
        "How many went is not told. Give a number; 0 where none of them went."
    )
    assert refusal(stage, What.WEANED, sow="Berta", to=NEW_GROUP, name="W") == (
        "How many were weaned is not told. Give a number: so many go to the group."
    )
    assert refusal(stage, What.LEFT, pigs="2", to=NEW_GROUP) == (
        "The name of the new group is not told. Give it one, such as Weaners."
    )
    assert refusal(stage, What.DIED, pigs="many") == (
        "The number of pigs is 'many': that is no number. Give a number, such as 12."
    )


def test_a_day_in_the_future_or_more_pigs_than_there_are_go_in(stage: Stage) -> None:
    many = live_weight(stage.session.farm, "group0", TODAY).pigs + 5
    do(stage, told(stage, What.SOLD, pigs=str(many), day="2026-06-01", register=YES))
    assert len(stage.session.farm.register_entries) == 1


def test_pigs_that_all_go_to_another_group_end_theirs(stage: Stage) -> None:
    there = live_weight(stage.session.farm, "group0", TODAY).pigs
    do(stage, told(stage, What.LEFT, pigs=str(there), to="group1"))
    assert stage.session.farm.groups["group0"].closed_on == TODAY


def test_some_pigs_begin_a_group_of_their_own(stage: Stage, card: Card) -> None:
    form = opened(stage, card)
    form.choose(What.LEFT)
    assert not form.lines["name"].isVisibleTo(form)
    fill(form, to=NEW_GROUP, pigs="2", name="Second lot")
    assert form.lines["name"].isVisibleTo(form)
    form.take_it()
    assert comes(lambda: any(each.name == "Second lot" for each in stage.session.farm.groups.values()))


def test_weaned_piglets_may_stay_with_the_sows(stage: Stage) -> None:
    before = len(stage.session.farm.groups)
    do(stage, farrow("group0", "Berta", TODAY, born=9))
    do(stage, told(stage, What.WEANED, sow="Berta", weaned="8", to=WITH_SOWS))
    (litter,) = stage.session.farm.litters.values()
    assert (litter.weaned, litter.weaned_group_uid, len(stage.session.farm.groups)) == (8, None, before)


def test_an_escape_is_recorded_where_the_group_was(stage: Stage) -> None:
    do(stage, told(stage, What.ESCAPED, out="2", back="2", kv="1,2 kV", why="net down"))
    (row,) = stage.session.farm.escapes.values()
    assert row.paddock_uid is not None
    assert row.fence_kv == 1.2
    assert facts(stage)["Lately"] == ("Wed 13 May", "2 got out")


def test_an_entry_is_put_right_on_the_card(stage: Stage, card: Card) -> None:
    do(stage, treat("group0", TODAY, "Wormer", withdrawal_days=20, uid="t"))
    form = opened(stage, card)
    form.what.setCurrentIndex(form.what.findData("#0"))
    assert form.what.currentText() == "Put right: Wormer, Wed 13 May"
    assert form.typed().words("withdrawal") == "20"
    fill(form, withdrawal="28")
    form.take_it()
    assert comes(lambda: stage.session.farm.treatments["t"].withdrawal_days == 28)


def test_an_entry_is_removed_with_its_line_in_the_register(stage: Stage, card: Card) -> None:
    do(stage, pigs_sold("group0", TODAY, 2, to_where="Market"))
    form = opened(stage, card)
    form.what.setCurrentIndex(form.what.findData("#0"))
    assert form.only_removed.isVisibleTo(form)
    form.only_removed.click()
    assert comes(lambda: not stage.session.farm.register_entries)
    assert not kept_of(stage.session.farm, "group0") or kept_of(stage.session.farm, "group0")[0].row.uid != "sold"


def test_pigs_that_went_come_back_with_the_entry_that_is_removed(stage: Stage) -> None:
    there = live_weight(stage.session.farm, "group0", TODAY).pigs
    do(stage, book_slaughter(TODAY, group_uid="group0", pigs=2, uid="b"))
    do(stage, told(stage, What.WENT, booking="b", pigs="2"))
    assert live_weight(stage.session.farm, "group0", TODAY).pigs == there - 2
    do(stage, take_out(stage.session.farm, stage.session.farm.slaughter_bookings["b"]))
    assert live_weight(stage.session.farm, "group0", TODAY).pigs == there
    assert not stage.session.farm.register_entries


def test_the_card_says_what_is_coming_and_what_wants_care(stage: Stage) -> None:
    do(
        stage,
        serve("group0", "Berta", TODAY - timedelta(days=100)),
        serve("group0", "Clara", TODAY - timedelta(days=90)),
        book_slaughter(TODAY + timedelta(days=9), group_uid="group0", pigs=3, least_kg=100.0),
        treat("group0", TODAY, "Wormer"),
    )
    said = facts(stage)
    assert said["Farrows"] == ("Wed 27 May", "Berta, and 1 more")
    assert said["Booked"] == ("Fri 22 May", "3 pigs from 100 kg")
    assert said["Lately"] == ("Wed 13 May", "Wormer")
    found = card_of(stage, Picked("groups", "group0"))
    assert found is not None
    assert "Wormer of Wed 13 May: no days of withdrawal are typed." in found.warnings


def test_a_farm_that_can_only_be_read_offers_nothing_to_tell(stage: Stage, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(stage.session, "read_only", True)
    found = card_of(stage, Picked("groups", "group0"))
    assert found is not None
    assert "happened" not in [deed.name for deed in found.deeds]


def test_a_weight_is_read_in_the_units_of_the_screen() -> None:
    assert Typed({"kg": "220"}, "us", TODAY).kg() == pytest.approx(99.79, abs=0.01)
    with pytest.raises(EditError, match="The weight of a pig is 900 kg") as found:
        Typed({"kg": "900"}, "metric", TODAY).kg()
    assert "from 0.3 kg to 600 kg" in str(found.value.remedy)


def test_lines_are_fields_or_lists(stage: Stage, card: Card) -> None:
    form = opened(stage, card)
    assert all(isinstance(line, CardField | ChoiceBox) for line in form.lines.values())


def test_the_card_says_what_the_rules_say_of_bookings_and_counts(stage: Stage) -> None:
    do(
        stage,
        treat("group0", TODAY, "Wormer", withdrawal_days=28),
        book_slaughter(TODAY + timedelta(days=9), group_uid="group0", pigs=2),
        pigs_sold("group0", TODAY, 50),
    )
    found = card_of(stage, Picked("groups", "group0"))
    assert found is not None
    said = " ".join(found.warnings)
    assert "they are free of Wormer on" in said
    assert "Book them for" in said
    assert "50 pigs left" in said


def test_that_a_group_began_is_not_told_as_what_was_lately(stage: Stage) -> None:
    do(stage, add_group("Old hands", pigs=8, since=TODAY, uid="g"))
    assert "Lately" not in facts(stage, "g")
    do(stage, pigs_bought("g", TODAY, 2))
    assert facts(stage, "g")["Lately"] == ("Wed 13 May", "2 bought")


def test_pigs_that_came_with_a_line_in_the_register_are_told_as_what_was_lately(stage: Stage) -> None:
    do(stage, add_group("New ones", pigs=8, since=TODAY, from_where="a market", uid="g"))
    assert facts(stage, "g")["Lately"] == ("Wed 13 May", "8 bought")


def test_the_card_says_where_the_days_of_withdrawal_are_not_typed(stage: Stage) -> None:
    do(stage, treat("group0", TODAY, "Wormer", uid="t"))
    assert facts(stage)["Withdrawal"] == ("days not typed", "Wormer")
    stage.show_day(TODAY - timedelta(days=1))
    assert "Withdrawal" not in facts(stage)
    stage.show_day(TODAY + timedelta(days=60))
    assert "Withdrawal" not in facts(stage)


def test_days_that_are_typed_and_days_that_are_not_stand_side_by_side(stage: Stage) -> None:
    do(stage, treat("group0", TODAY, "Wormer", withdrawal_days=28), treat("group0", TODAY, "Drops"))
    found = card_of(stage, Picked("groups", "group0"))
    assert found is not None
    said = [(each.figure, each.rests_on) for each in found.facts if each.label == "Withdrawal"]
    assert said == [("days not typed", "Drops"), ("free on Thu 11 Jun", "Wormer")]


def test_where_pigs_got_out_is_shown_on_the_map_from_the_form(stage: Stage, card: Card) -> None:
    form = opened(stage, card)
    form.choose(What.ESCAPED)
    spot = form.lines["spot"]
    assert isinstance(spot, ChoiceBox)
    spot.setCurrentIndex(spot.findData(ON_MAP))
    spot.activated.emit(spot.currentIndex())
    assert stage.verb == "spot"
    with pytest.raises(EditError, match="Where they got out is not shown yet") as asked:
        form.edit()
    assert str(asked.value.remedy) == "Click there on the map, or choose another answer."
    stage.take_up("pick")
    stage.spotted.emit(30.0, 40.0)
    assert spot.currentText() == "where I clicked on the map"
    form.take_it()
    QApplication.processEvents()
    (row,) = stage.session.farm.escapes.values()
    assert row.point is not None
    assert (row.point.x, row.point.y) == (30.0, 40.0)


def test_pigs_that_got_out_at_their_paddock_have_its_place_and_keep_it_when_put_right(stage: Stage, card: Card) -> None:
    form = opened(stage, card)
    form.choose(What.ESCAPED)
    fill(form, spot=AT_PADDOCK, out="3")
    do(stage, form.edit())
    (row,) = stage.session.farm.escapes.values()
    paddock = stage.session.farm.paddocks[row.paddock_uid or ""]
    assert row.point is not None
    assert paddock.outline.contains(row.point)
    form = opened(stage, card)
    form.what.setCurrentIndex(form.what.findData("#0"))
    assert form.lines["spot"].currentText() == "where it is on the map"  # type: ignore[union-attr]
    fill(form, out="4")
    do(stage, form.edit())
    (after,) = stage.session.farm.escapes.values()
    assert (after.pigs_out, after.point) == (4, row.point)
