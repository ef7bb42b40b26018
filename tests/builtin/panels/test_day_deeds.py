from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
import shapely
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.day_deeds import ALL_WELL, FEEDER, MOVED, NOT_CROSSED, TANK, day_deeds, do_day_deed
from pigmap.builtin.panels.group_card import GroupCard
from pigmap.builtin.panels.message import MessageBar
from pigmap.builtin.panels.other_facts import card_of
from pigmap.document.edits import amend, begin_stay, did_not_cross, plan_stay, record_check, remove
from pigmap.errors import EditError
from pigmap.fence.books import books_of
from pigmap.planning.moves_of_day import moves_of_day
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import undo
from pigmap.qt.stage import Notice, Picked, Room, Stage
from pigmap.records import Check, Farm, Group, NetKind, NetUse, Paddock, Projection, Record, Stay, StayState, add
from tests.qt.window_farm import TODAY, day, made_panel, made_stage, made_window


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        made.said = []  # type: ignore[attr-defined]
        made.noticed.connect(made.said.append)  # type: ignore[attr-defined]
        yield made


def _said(stage: Stage) -> list[Notice]:
    said: list[Notice] = stage.said  # type: ignore[attr-defined]
    return said


def _button(panel: QWidget, words: str) -> WordButton:
    return next(each for each in panel.findChildren(WordButton) if each.text() == words and not each.isHidden())


def _buttons(panel: QWidget) -> list[str]:
    return [each.text() for each in panel.findChildren(WordButton) if not each.isHidden()]


def _checks_of_today(stage: Stage) -> list[Check]:
    return [check for check in stage.session.farm.checks.values() if check.checked_on == TODAY]


def test_moved_ends_the_running_stay_and_begins_the_planned_one_in_one_step(stage: Stage) -> None:
    before = stage.session.farm
    do_day_deed(stage, MOVED, "group0")
    left, begun = (stage.session.farm.stays[uid] for uid in ("group0s2", "group0s3"))
    assert (left.state, left.out_on) == (StayState.PAST, TODAY)
    assert (begun.state, begun.in_on, begun.out_on) == (StayState.RUNNING, TODAY, day(8))
    assert stage.words(_said(stage)[-1].text) == "Dry sows moved to Top Field 4 today."
    assert _said(stage)[-1].deed == "undo"
    undo(stage)
    assert stage.session.farm.stays == before.stays


@pytest.mark.parametrize(("days_on", "out_on"), [(6, day(8)), (12, None)])
def test_a_late_move_is_recorded_as_it_was(stage: Stage, days_on: int, out_on: date | None) -> None:
    stage.today = day(days_on)
    stage.show_day(stage.today)
    do_day_deed(stage, MOVED, "group0")
    begun = stage.session.farm.stays["group0s3"]
    assert (begun.state, begun.in_on, begun.out_on) == (StayState.RUNNING, stage.today, out_on)
    assert stage.session.farm.stays["group0s2"].out_on == stage.today


def test_the_nets_round_the_old_ground_are_taken_up_and_those_of_others_stay(stage: Stage) -> None:
    before = stage.session.farm.net_uses
    do_day_deed(stage, MOVED, "group0")
    after = stage.session.farm.net_uses
    changed = {uid for uid in before if before[uid] != after[uid]}
    assert {before[uid].paddock_uid for uid in changed} == {"group0p2"}
    assert {after[uid].taken_on for uid in changed} == {stage.today}
    stage.session.undo().result()
    assert stage.session.farm.net_uses == before


def test_a_second_press_does_not_move_on_to_the_paddock_after(stage: Stage) -> None:
    stage.session.do(plan_stay("group0", "group0p0", day(8))).result()
    do_day_deed(stage, MOVED, "group0")
    stays = stage.session.farm.stays
    do_day_deed(stage, MOVED, "group0")
    assert stage.session.farm.stays == stays
    assert stage.words(_said(stage)[-1].text) == "Dry sows moved to Top Field 4 today: it is recorded."


def test_a_move_that_was_asked_for_twice_at_once_is_one_move(stage: Stage) -> None:
    edit = begin_stay("group0s3", TODAY)
    stage.session.do(edit).result()
    farm = stage.session.farm
    assert edit(farm) == []
    stage.session.do(edit).result()
    assert stage.session.farm is farm


def test_without_a_next_paddock_it_says_what_to_do(stage: Stage) -> None:
    stage.session.do(remove("stays", "group0s3")).result()
    do_day_deed(stage, MOVED, "group0")
    assert stage.words(_said(stage)[-1].text) == "No next paddock for Dry sows. Place the next paddock first (P)."
    assert stage.session.farm.stays["group0s2"].state is StayState.RUNNING


def test_all_well_is_a_daily_check_and_is_not_made_twice(stage: Stage) -> None:
    do_day_deed(stage, ALL_WELL, "group0")
    (check,) = _checks_of_today(stage)
    assert (check.all_well, check.paddock_uid, check.group_uid) == (True, "group0p2", "group0")
    assert stage.words(_said(stage)[-1].text) == "All well today with Dry sows in Top Field 3."
    do_day_deed(stage, ALL_WELL, "group0")
    assert _checks_of_today(stage) == [check]
    assert stage.words(_said(stage)[-1].text) == "All well today with Dry sows in Top Field 3: it is recorded."
    undo(stage)
    assert _checks_of_today(stage) == []


def test_readings_of_the_day_are_kept_by_all_well(stage: Stage) -> None:
    stage.session.do(record_check("group0p2", TODAY, fence_kv=6.1)).result()
    do_day_deed(stage, ALL_WELL, "group0")
    (check,) = _checks_of_today(stage)
    assert (check.all_well, check.fence_kv) == (True, 6.1)


@pytest.mark.parametrize("found", [{"water_ok": False}, {"soil_on_net": True}, {"damage": "Post"}, {"pigs_seen": 7}])
def test_what_was_found_on_the_day_stands_with_all_well_after_it(stage: Stage, found: dict[str, Any]) -> None:
    stage.session.do(record_check("group0p2", TODAY, **found)).result()
    do_day_deed(stage, ALL_WELL, "group0")
    assert sorted(check.all_well for check in _checks_of_today(stage)) == [False, True]


def test_all_well_with_a_group_that_is_nowhere_says_what_to_do(stage: Stage) -> None:
    stage.session.do(remove("stays", "group0s2")).result()
    do_day_deed(stage, ALL_WELL, "group0")
    said = stage.words(_said(stage)[-1].text)
    assert said == "No paddock for Dry sows today. Place one, and record that they moved."
    assert _checks_of_today(stage) == []


def test_other_days_have_no_deeds(stage: Stage) -> None:
    group = stage.session.farm.groups["group0"]
    assert [deed.name for deed in day_deeds(stage, group)] == [MOVED, ALL_WELL]
    stage.show_day(day(-1))
    assert day_deeds(stage, group) == ()
    do_day_deed(stage, MOVED, "group0")
    assert stage.session.farm.stays["group0s3"].state is StayState.PLANNED


def test_deeds_stand_on_the_card_of_the_picked_group_only(stage: Stage) -> None:
    with made_panel(stage, "groups") as panel:
        assert "Moved" not in _buttons(panel)
        stage.pick(Picked("groups", "group1"))
        assert [words for words in _buttons(panel) if words in ("Moved", "All well")] == ["Moved", "All well"]
        card = next(card for card in panel.findChildren(GroupCard) if card.isChecked())
        moved = _button(panel, "Moved")
        assert card.geometry().contains(moved.geometry())
        assert moved.height() >= 44
        assert moved.accessibleName() == "Moved, Weaners: to Top Field 14, today"
        stage.show_day(TODAY + timedelta(days=1))
        assert "Moved" not in _buttons(panel)


def test_a_row_of_low_cards_leaves_the_deeds_to_the_card_over_the_map(stage: Stage) -> None:
    with made_panel(stage, "groups") as panel:
        stage.pick(Picked("groups", "group1"))
        stage.fit(Room("narrow", 300))
        assert "Moved" not in _buttons(panel)


def test_a_press_on_the_column_records_for_the_picked_group(stage: Stage) -> None:
    with made_panel(stage, "groups") as panel:
        stage.pick(Picked("groups", "group1"))
        QTest.mouseClick(_button(panel, "All well"), Qt.MouseButton.LeftButton)
        QTest.mouseClick(_button(panel, "Moved"), Qt.MouseButton.LeftButton)
    assert [check.group_uid for check in _checks_of_today(stage)] == ["group1"]
    assert stage.session.farm.stays["group1s3"].state is StayState.RUNNING


def test_a_picked_card_stays_marked_when_it_is_pressed_again(stage: Stage) -> None:
    with made_panel(stage, "groups") as panel:
        card = panel.findChildren(GroupCard)[0]
        for _ in range(2):
            QTest.mouseClick(card, Qt.MouseButton.LeftButton)
            assert card.isChecked()


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Space])
def test_the_day_goes_in_by_keys_from_card_to_deeds(qtbot: QtBot, tmp_path: Path, key: Qt.Key) -> None:
    with made_window(tmp_path) as window:
        stage = window.stage
        column = window.panel("groups")
        assert column is not None
        first = column.findChildren(GroupCard)[0]
        first.setFocus()
        QTest.keyClick(first, key)
        assert stage.picked == Picked("groups", "group0")
        for words in ("Moved", "All well"):
            focused = window.focusWidget()
            assert focused is not None
            QTest.keyClick(focused, Qt.Key.Key_Tab)
            button = window.focusWidget()
            assert isinstance(button, WordButton)
            assert button.text() == words
            QTest.keyClick(button, key)
        assert stage.session.farm.stays["group0s3"].state is StayState.RUNNING
        assert [check.paddock_uid for check in _checks_of_today(stage)] == ["group0p3"]
        bar = window.findChild(MessageBar)
        assert bar is not None
        assert bar.shown is not None
        assert bar.shown.deed == "undo"


def test_the_card_over_the_map_has_the_deeds_and_keeps_the_keys_on_them(stage: Stage) -> None:
    with made_panel(stage, "card", (340, 600)) as card:
        stage.pick(Picked("groups", "group0"))
        assert _buttons(card)[:2] == ["Moved", "All well"]
        moved = _button(card, "Moved")
        QTest.keyClick(moved, Qt.Key.Key_Return)
        assert stage.session.farm.stays["group0s3"].state is StayState.RUNNING
        assert _button(card, "Moved") is moved
        assert moved.accessibleName() == "Moved, Dry sows: no next paddock yet"


def _count_standing(stage: Stage, at: date) -> dict[str, int]:
    return dict(books_of(stage.session.farm, stage.today).counts(at))


def test_pigs_that_did_not_cross_have_both_fences_stand_and_move_the_next_day(stage: Stage) -> None:
    stage.today = day(3)  # the day on which the dry sows are to move
    stage.show_day(stage.today)
    group = stage.session.farm.groups["group0"]
    assert [deed.name for deed in day_deeds(stage, group)] == [MOVED, ALL_WELL, NOT_CROSSED]
    assert _count_standing(stage, stage.today) == {"fifty": 8}
    do_day_deed(stage, NOT_CROSSED, "group0")
    said = stage.words(_said(stage)[-1].text)
    assert said == "Dry sows did not cross: the nets of Top Field 4 stand, and the old ones are not free yet."
    assert _count_standing(stage, stage.today) == {"fifty": 11}  # three new sides of one net each; the fourth stood
    (coming,) = [each for each in moves_of_day(stage.session.farm, day(4), stage.today) if each.group.uid == "group0"]
    assert coming.nets.to_set == ()
    assert sum(nets.count for nets in coming.nets.to_leave) == 4
    assert sum(nets.count for nets in coming.nets.to_take_up) == 2  # another group is behind the third
    assert [deed.name for deed in day_deeds(stage, group)] == [MOVED, ALL_WELL]
    undo(stage)
    assert _count_standing(stage, stage.today) == {"fifty": 8}


def test_after_a_night_between_two_fences_the_move_takes_the_old_nets_up(stage: Stage) -> None:
    stage.today = day(3)
    stage.show_day(stage.today)
    uids = set(stage.session.farm.net_uses)
    do_day_deed(stage, NOT_CROSSED, "group0")
    set_early = [use for uid, use in stage.session.farm.net_uses.items() if uid not in uids]
    assert {(use.paddock_uid, use.set_on) for use in set_early} == {("group0p3", day(3))}
    stage.today = day(4)
    stage.show_day(stage.today)
    do_day_deed(stage, MOVED, "group0")
    after = stage.session.farm.net_uses
    assert stage.session.farm.stays["group0s3"].in_on == day(4)
    assert [after[use.uid].taken_on for use in set_early] == [None] * len(set_early)
    assert all(after[uid].taken_on == day(4) for uid in uids if after[uid].paddock_uid == "group0p2")


def test_before_the_day_of_the_move_nobody_can_have_failed_to_cross(stage: Stage) -> None:
    group = stage.session.farm.groups["group0"]
    assert stage.session.farm.stays["group0s3"].in_on > TODAY
    assert NOT_CROSSED not in [deed.name for deed in day_deeds(stage, group)]


def test_pigs_that_have_moved_cannot_have_failed_to_cross(stage: Stage) -> None:
    do_day_deed(stage, MOVED, "group0")
    with pytest.raises(EditError) as refused:
        did_not_cross("group0s3", (), TODAY)(stage.session.farm)
    assert str(refused.value.message) == f"The pigs are in Top Field 4 since {TODAY.isoformat()}."
    assert str(refused.value.remedy) == "If they are not, undo that they moved, and say then that they did not cross."


def test_on_the_morning_of_a_move_it_is_among_the_moves_of_the_day_until_and_after_it_is_recorded(stage: Stage) -> None:
    stage.today = day(3)
    stage.show_day(stage.today)

    def of_today() -> list[str]:
        return [move.group.uid for move in moves_of_day(stage.session.farm, stage.today, stage.today)]

    before = of_today()
    assert "group0" in before
    do_day_deed(stage, MOVED, "group0")
    assert set(of_today()) == set(before)


def test_the_card_of_a_move_that_was_recorded_names_the_nets_that_were_taken_up(stage: Stage) -> None:
    old = stage.session.farm.stays["group0s2"]
    lines = [use.run for use in stage.session.farm.net_uses.values() if use.paddock_uid == old.paddock_uid]
    assert lines
    stage.today = day(3)
    stage.show_day(stage.today)

    def taken() -> int:
        (move,) = [
            each for each in moves_of_day(stage.session.farm, stage.today, stage.today) if each.group.uid == "group0"
        ]
        return sum(nets.count for nets in move.nets.to_take_up)

    before = taken()
    do_day_deed(stage, MOVED, "group0")
    assert taken() == before


def test_nets_longer_than_the_sides_they_stood_on_are_counted_as_they_were_taken_up() -> None:
    """Three crooked sides of 53 m stood in three nets that were drawn out; as one run of 159 m they would be four."""
    outline = shapely.Polygon([(0, 0), (50, 0), (53, 53), (0, 53)])
    ring = [(0, 0), (50, 0), (53, 53), (0, 53), (0, 0)]
    kind = NetKind(uid="fifty", name="50 m nets", bays_mm=(3600,) * 13 + (3200,))
    new = shapely.box(0, -50, 50, 0)
    rows: list[Record] = [
        kind,
        Group(uid="sows", name="Sows"),
        Paddock(uid="old", name="Old", outline=outline, net_kind_uid="fifty"),
        Paddock(uid="new", name="New", outline=new, net_kind_uid="fifty"),
        *(
            NetUse(net_kind_uid="fifty", paddock_uid="old", run=shapely.LineString(side), set_on=TODAY)
            for side in pairwise(ring)
        ),
        Stay(uid="a", group_uid="sows", paddock_uid="old", ground=outline, state=StayState.RUNNING, in_on=TODAY),
        Stay(
            uid="b",
            group_uid="sows",
            paddock_uid="new",
            ground=new,
            state=StayState.PLANNED,
            in_on=day(2),
            out_on=day(5),
        ),
    ]
    flat = Projection(name="flat", authority="NONE", code=0, definition="", ground_per_grid=1.0)
    farm = Farm(document_uid="farm", projection=flat).after(add(row) for row in rows)
    moved = farm.after(begin_stay("b", day(2))(farm))
    for each in (farm, moved):
        (move,) = moves_of_day(each, day(2), day(2))
        assert sum(nets.count for nets in move.nets.to_take_up) == 3
        assert sum(nets.count for nets in move.nets.to_leave) == 1


def test_a_tank_that_was_filled_today_counts_from_full_until_it_is_empty(stage: Stage) -> None:
    group = stage.session.farm.groups["group0"]
    assert TANK not in [deed.name for deed in day_deeds(stage, group)]  # nobody told its size
    stage.session.do(amend("groups", "group0", tank_l=120.0)).result()
    deeds = [deed.name for deed in day_deeds(stage, stage.session.farm.groups["group0"])]
    assert TANK in deeds
    assert FEEDER not in deeds
    do_day_deed(stage, TANK, "group0")
    assert stage.words(_said(stage)[-1].text) == "Dry sows: Tank filled on Wed 13 May 2026."
    assert stage.session.farm.groups["group0"].tank_filled_on == TODAY

    def tank() -> tuple[str, str]:
        card = card_of(stage, Picked("groups", "group0"))
        assert card is not None
        return next((fact.figure, fact.rests_on) for fact in card.facts if fact.label == "Tank")

    figures = [tank()]
    for ahead in (1, 2):
        stage.show_day(day(ahead))
        figures.append(tank())
    assert figures == [
        ("empty in 1.3 days", "filled Wed 13 May"),
        ("empty in 0.3 days", "filled Wed 13 May"),
        ("empty by the count", "filled Wed 13 May"),
    ]
    card = card_of(stage, Picked("groups", "group0"))
    assert card is not None
    assert "Tank: empty by the count. Look, and fill it." in card.warnings
    undo(stage)
    assert stage.session.farm.groups["group0"].tank_filled_on is None
