from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.card import Card
from pigmap.builtin.panels.card_facts import CardFacts
from pigmap.builtin.panels.other_facts import card_of
from pigmap.document.edits import amend, place_paddock, plan_stay, remove
from pigmap.drawing.on_day import on_day
from pigmap.drawing.words import day_words
from pigmap.errors import EditError
from pigmap.fence.standing import standing_on
from pigmap.qt.buttons import WordButton
from pigmap.qt.group_step import group_of
from pigmap.qt.stage import Picked, Stage
from pigmap.qt.whereabouts import book_of
from pigmap.records import Edit, KeepOut, Reason, StayState, Use, add
from pigmap.text import Text
from tests.qt.window_farm import day, made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


def _facts(stage: Stage, table: str, uid: str) -> CardFacts:
    facts = card_of(stage, Picked(table, uid))
    assert facts is not None
    return facts


def _rows(facts: CardFacts) -> dict[str, tuple[str, str]]:
    return {fact.label: (fact.figure, fact.rests_on) for fact in facts.facts}


def _button(panel: QWidget, words: str) -> WordButton:
    return next(button for button in panel.findChildren(WordButton) if button.text() == words and button.isVisible())


def test_a_planned_paddock_says_what_to_carry_and_what_is_under_it(stage: Stage) -> None:
    facts = _facts(stage, "paddocks", "group0p3")
    rows = _rows(facts)
    assert facts.title == "Top Field 4"
    assert facts.second == "planned, Sat 16 May to Thu 21 May"
    assert facts.planned
    assert rows["Nets"] == ("carry 3, leave 1", "50 m, blue tape")
    assert rows["Area"] == ("0.25 ha", "50 \u00d7 50 m")
    assert rows["Stay"] == ("5 days", "8 pigs, 80 kg each")
    assert rows["Rest"] == ("not known", "on Sat 16 May, 60 wanted")
    assert rows["Ground"] == ("hardly rooted", "computed; graze lightly allows 25 %")


def test_a_field_that_is_to_be_turned_over_welcomes_all_rooting(stage: Stage) -> None:
    stage.session.do(amend("purposes", "purpose", purpose=Use.TURN_OVER)).result()
    assert _rows(_facts(stage, "stays", "group0s2"))["Ground"] == (
        "a quarter rooted",
        "seen 12 May; turn over allows all of it",
    )


def test_a_used_paddock_says_how_long_it_has_rested(stage: Stage) -> None:
    assert _rows(_facts(stage, "paddocks", "group0p0"))["Rest"] == ("7 days", "60 wanted")


def test_the_paddock_in_use_says_since_when_and_what_was_read(stage: Stage) -> None:
    facts = _facts(stage, "stays", "group0s2")
    rows = _rows(facts)
    assert facts.second == "Dry sows since Mon 11 May"
    assert rows["Nets"] == ("4 nets stand", "50 m, blue tape")
    assert rows["Rest"] == ("pigs on it", "60 wanted")
    assert rows["Checked"] == ("5.9 kV on Tuesday", "")
    assert rows["Ground"] == ("a quarter rooted", "seen 12 May; graze lightly allows 25 %")


def test_the_card_of_a_group_names_its_next_move(stage: Stage) -> None:
    rows = _rows(_facts(stage, "groups", "group1"))
    assert rows["Pigs"] == ("8", "dry sows")
    assert rows["Weight"] == ("80 kg each", "75 to 85 kg, 640 kg in all")
    assert rows["Next"] == ("Sat 16 May", "to Top Field 14, carry 2")


def test_an_overhead_line_and_water_carry_their_cautions(stage: Stage) -> None:
    assert _facts(stage, "ways", "line").warnings == (
        "Keep clear of the overhead line. Its owner can tell you the distance.",
    )
    pond = _facts(stage, "keep_outs", "pond")
    assert pond.title == "Duck pond"
    assert "Local rules on the distance come first." in pond.warnings[0]


def test_a_distance_to_keep_off_never_reads_as_less_than_it_is(stage: Stage) -> None:
    stage.session.do(amend("ways", "line", clearance_m=2.5)).result()
    assert _rows(_facts(stage, "ways", "line"))["Keep off"] == ("2.5 m", "")
    stage.session.do(amend("keep_outs", "pond", net_m=7.5)).result()
    assert _rows(_facts(stage, "keep_outs", "pond"))["Nets"] == ("7.5 m off", "")


@pytest.mark.parametrize(
    ("table", "uid", "title"),
    [("fields", "field", "Top Field"), ("places", "tap", "Tap"), ("checks", "group0c", "Top Field 3")],
)
def test_everything_that_can_be_picked_has_a_card(stage: Stage, table: str, uid: str, title: str) -> None:
    assert _facts(stage, table, uid).title == title


def test_what_is_gone_has_no_card(stage: Stage) -> None:
    assert card_of(stage, Picked("paddocks", "gone")) is None
    assert card_of(stage, Picked("settings", "units")) is None


def test_the_card_comes_with_a_pick_and_goes_with_it(stage: Stage) -> None:
    with made_panel(stage, "card", (350, 500)) as card:
        assert card.isHidden()
        stage.pick(Picked("paddocks", "group0p3"))
        assert not card.isHidden()
        assert card.accessibleName().startswith("Top Field 4, planned")
        stage.pick(None)
        assert card.isHidden()


def test_rename_takes_what_was_typed(stage: Stage) -> None:
    with made_panel(stage, "card", (350, 500)) as card:
        stage.pick(Picked("paddocks", "group0p3"))
        _button(card, "Rename").click()
        field = card.findChild(QLineEdit)
        assert field is not None
        assert field.text() == "Top Field 4"
        field.setText("By the oak")
        QTest.keyClick(field, Qt.Key.Key_Return)
        assert stage.session.farm.paddocks["group0p3"].name == "By the oak"
        assert field.isHidden()


def test_esc_leaves_the_name_as_it_was(stage: Stage) -> None:
    with made_panel(stage, "card", (350, 500)) as card:
        stage.pick(Picked("paddocks", "group0p3"))
        _button(card, "Rename").click()
        field = card.findChild(QLineEdit)
        assert field is not None
        field.setText("By the oak")
        QTest.keyClick(field, Qt.Key.Key_Escape)
        assert stage.session.farm.paddocks["group0p3"].name == "Top Field 4"
        assert stage.picked is not None


def _typed(card: QWidget, words: str) -> None:
    field = card.findChild(QLineEdit)
    assert field is not None
    field.setText(words)
    QTest.keyClick(field, Qt.Key.Key_Return)


@pytest.mark.parametrize(
    ("table", "uid", "button", "column"),
    [("fields", "field", "End of use", "retired_on"), ("groups", "group0", "End group", "closed_on")],
)
def test_what_is_not_removed_for_its_past_is_given_an_end_on_its_card(
    stage: Stage, table: str, uid: str, button: str, column: str
) -> None:
    with pytest.raises(EditError, match=button.lower().replace("group", "the group") + " instead"):
        stage.session.do(remove(table, uid)).result()
    with made_panel(stage, "card", (350, 600)) as card:
        stage.pick(Picked(table, uid))
        _button(card, button).click()
        field = card.findChild(QLineEdit)
        assert field is not None
        assert field.text() == "2026-05-13", "the day that is shown is offered"
        _typed(card, "2026-11-30")
        assert field.isHidden()
        assert getattr(stage.session.farm.rows(table)[uid], column) == date(2026, 11, 30)
        assert _rows(_facts(stage, table, uid))["End of use"][0] == "Mon 30 Nov 2026"
        _button(card, button).click()
        assert field.text() == "2026-11-30"
        _typed(card, "")
        assert getattr(stage.session.farm.rows(table)[uid], column) is None
        assert "End of use" not in _rows(_facts(stage, table, uid))
        stage.session.undo().result()
        assert getattr(stage.session.farm.rows(table)[uid], column) == date(2026, 11, 30)


def test_a_day_that_is_none_is_refused_and_stays_to_be_put_right(stage: Stage) -> None:
    said: list[tuple[str, str]] = []
    stage.noticed.connect(lambda notice: said.append((str(notice.text), notice.kind)))
    with made_panel(stage, "card", (350, 600)) as card:
        stage.pick(Picked("fields", "field"))
        _button(card, "End of use").click()
        for typed in ("30 November", "2026-11-31", "20261130"):
            _typed(card, typed)
            assert said.pop() == (
                f"{typed} is not a day of the calendar. Give year, month and day, such as 2026-03-01.",
                "refused",
            )
        _typed(card, "1815-06-18")
        assert said.pop() == (
            "End of use of Top Field is 1815-06-18. Give a day between 1900-01-01 and 2200-01-01.",
            "refused",
        )
        assert stage.session.farm.fields["field"].retired_on is None


def test_esc_leaves_the_end_of_use_as_it_was(stage: Stage) -> None:
    with made_panel(stage, "card", (350, 600)) as card:
        stage.pick(Picked("fields", "field"))
        _button(card, "End of use").click()
        field = card.findChild(QLineEdit)
        assert field is not None
        QTest.keyClick(field, Qt.Key.Key_Escape)
        assert field.isHidden()
        assert stage.session.farm.fields["field"].retired_on is None
        assert stage.picked is not None


def test_remove_can_be_taken_back(stage: Stage) -> None:
    said: list[tuple[str, str]] = []
    stage.noticed.connect(lambda notice: said.append((str(notice.text), notice.deed)))
    with made_panel(stage, "card", (350, 500)) as card:
        stage.pick(Picked("paddocks", "group0p3"))
        _button(card, "Remove").click()
        assert "group0p3" not in stage.session.farm.paddocks
        assert said == [("Top Field 4 removed.", "undo")]
        assert card.isHidden()


def test_what_has_a_past_is_not_removed_and_the_reason_is_told(stage: Stage) -> None:
    said: list[tuple[str, str]] = []
    stage.noticed.connect(lambda notice: said.append((str(notice.text), notice.kind)))
    with made_panel(stage, "card", (350, 500)) as card:
        stage.pick(Picked("paddocks", "group0p0"))
        _button(card, "Remove").click()
    assert "group0p0" in stage.session.farm.paddocks
    assert len(said) == 1
    assert said[0][1] == "refused"
    assert "Top Field 1 has 1 recorded stay" in said[0][0]


def test_a_day_more_and_a_day_less_are_buttons_too(stage: Stage) -> None:
    with made_panel(stage, "card", (350, 500)) as card:
        stage.pick(Picked("stays", "group0s3"))
        _button(card, "A day more").click()
        assert stage.session.farm.stays["group0s3"].out_on == day(9)
        _button(card, "A day less").click()
        assert stage.session.farm.stays["group0s3"].out_on == day(8)


def test_the_card_grows_with_what_it_says_and_scrolls_where_there_is_no_room(stage: Stage) -> None:
    with made_panel(stage, "card", (350, 240)) as card:
        assert isinstance(card, Card)
        stage.pick(Picked("stays", "group0s3"))
        QApplication.processEvents()
        assert card.heightForWidth(350) > 300
        assert card._body.height() > card._scroll.height() > 0


def test_a_planned_paddock_shows_the_ground_that_the_pigs_will_find(stage: Stage) -> None:
    """Paddock 1 was left on 4 May; pigs that come back on 3 June find 30 days of rest, whatever day is shown."""
    left = stage.session.farm.stays["group0s0"].out_on
    assert left is not None
    back = left + timedelta(days=30)
    edit = plan_stay("group0", "group0p0", in_on=back, out_on=back + timedelta(days=3))
    stage.session.do(edit).result()
    (stay,) = [each for each in stage.session.farm.stays.values() if each.in_on == back]
    assert _rows(_facts(stage, "stays", stay.uid))["Rest"] == ("30 days", f"on {day_words(back)}, 60 wanted")


def test_what_is_undone_is_no_longer_picked(stage: Stage) -> None:
    first, then = day(60), day(63)
    stage.session.do(plan_stay("group0", "group0p0", in_on=first, out_on=then)).result()
    (stay,) = [each for each in stage.session.farm.stays.values() if each.in_on == first]
    stage.pick(Picked("stays", stay.uid))
    stage.session.undo().result()
    assert stage.picked is None
    stage.pick(Picked("groups", "group0"))
    stage.session.redo().result()
    assert stage.picked == Picked("groups", "group0")


def test_a_recorded_stay_says_what_is_out_of_the_ordinary_as_the_farm_is_now(stage: Stage) -> None:
    pond = KeepOut(uid="pool", name="Pool", reason=Reason.POND, shape=stage.session.farm.paddocks["group0p0"].outline)
    assert not any("Pool" in said for said in _facts(stage, "paddocks", "group0p0").warnings)
    stage.session.do(Edit(Text("Drawn."), lambda farm: [add(pond)])).result()
    assert any("Pool" in said for said in _facts(stage, "paddocks", "group0p0").warnings)
    stage.session.do(remove("keep_outs", "pool")).result()
    assert not any("Pool" in said for said in _facts(stage, "paddocks", "group0p0").warnings)


def test_a_paddock_that_was_placed_all_the_same_says_why(stage: Stage) -> None:
    ground = stage.session.farm.paddocks["group0p0"].outline
    pond = KeepOut(uid="pool", name="Pool", reason=Reason.POND, shape=ground)
    stage.session.do(Edit(Text("Drawn."), lambda farm: [add(pond)])).result()
    placing = place_paddock(
        ground, group_uid="group0", in_on=day(30), out_on=day(33), why="the pond is dry", uid="all-the-same"
    )
    stage.session.do(placing).result()
    said = _facts(stage, "paddocks", "all-the-same").warnings
    assert any("Pool" in each and each.endswith("Placed all the same: the pond is dry.") for each in said)
    stage.session.do(remove("keep_outs", "pool")).result()
    assert "Placed all the same: the pond is dry." in _facts(stage, "paddocks", "all-the-same").warnings


def test_card_groups_nets_and_map_agree_on_pigs_that_are_late(stage: Stage) -> None:
    stage.today = day(6)  # two days after the day out of the first group, whose next stay did not begin
    stage.show_day(day(6))
    farm = stage.session.farm
    (late,) = (row for row in farm.stays.values() if row.group_uid == "group0" and row.state is StayState.RUNNING)
    there = book_of(farm, stage.today).whereabouts(farm.groups["group0"], stage.day)
    assert there.stay is late
    assert there.next_stay is not None
    assert late.paddock_uid in [each.paddock_uid for each in standing_on(farm, stage.day, today=stage.today)]
    assert late in [each.stay for each in on_day(farm, stage.day, stage.today).running]
    assert group_of(farm, Picked("paddocks", late.paddock_uid), stage.day, stage.today) == "group0"
    states = [stage.session.ground.state(uid, stage.day, stage.today) for uid in farm.fields]
    under = next(found for state in states if state is not None and (found := state.under(late.ground)) is not None)
    assert under.occupied == pytest.approx(1.0)


def test_on_a_day_to_come_the_card_says_computed_as_the_map_has_hollow_clods(stage: Stage) -> None:
    picked = Picked("paddocks", "group0p2")
    today, later = (_rows_on(stage, picked, offset)["Ground"] for offset in (0, 10))
    assert today == ("a quarter rooted", "seen 12 May; graze lightly allows 25 %")
    assert later[1] == "computed; graze lightly allows 25 %"


def _rows_on(stage: Stage, picked: Picked, offset: int) -> dict[str, tuple[str, str]]:
    stage.show_day(day(offset))
    return _rows(_facts(stage, *picked))
