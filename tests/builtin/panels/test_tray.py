from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from itertools import combinations
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.day_free import day_free
from pigmap.builtin.panels.tray_choices import ChoiceButton, choices_of_kinds
from pigmap.document.edits import add_net_kind, amend, plan_stay
from pigmap.qt.buttons import WordButton
from pigmap.qt.paintwork import breadth
from pigmap.qt.stage import Picked, Room, Stage
from pigmap.qt.stepper import Stepper
from pigmap.qt.theme import font
from tests.qt.window_farm import day, made_panel, made_stage, made_window


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def tray(stage: Stage) -> Iterator[QWidget]:
    with made_panel(stage, "tray", (292, 760)) as made:
        stage.take_up("place")
        yield made


def _choice(tray: QWidget, words: str) -> ChoiceButton:
    return next(each for each in tray.findChildren(ChoiceButton) if each.text() == words and not each.isHidden())


def test_kinds_of_net_say_what_is_spare(stage: Stage) -> None:
    (kind,) = choices_of_kinds(stage)
    assert kind.first == "50 m, 15 posts, blue tape"
    assert kind.second == "3 spare, 11 owned"


def test_it_begins_with_the_first_kind_and_the_picked_group(stage: Stage) -> None:
    stage.pick(Picked("groups", "group1"))
    with made_panel(stage, "tray", (292, 760)):
        stage.take_up("place")
        assert stage.placing.kind_uid == "fifty"
        assert stage.placing.group_uid == "group1"
        assert stage.placing.in_on == day(8)


def test_it_begins_with_the_nets_that_the_group_stands_in(stage: Stage) -> None:
    stage.session.do(add_net_kind("25 m nets", (25_000,), nets=4, uid="half")).result()
    with made_panel(stage, "tray", (292, 760)):
        stage.placing.choose(kind_uid="half")
        stage.pick(Picked("groups", "group1"))
        stage.take_up("place")
        assert stage.placing.kind_uid == "fifty"


def test_steppers_change_the_sides(tray: QWidget, stage: Stage) -> None:
    long, wide, *_ = tray.findChildren(Stepper)
    long.stepped.emit(1)
    wide.stepped.emit(1)
    wide.stepped.emit(-1)
    assert (stage.placing.nets_long, stage.placing.nets_wide) == (2, 1)
    assert long.accessibleName() == "Nets long: 2"


def test_the_day_in_can_be_stepped(tray: QWidget, stage: Stage) -> None:
    stepper = tray.findChildren(Stepper)[2]
    stepper.stepped.emit(-1)
    assert stage.placing.in_on == day(7)
    assert stepper.accessibleName() == "In on: Wed 20 May"


def test_no_group_places_the_paddock_alone(tray: QWidget, stage: Stage) -> None:
    _choice(tray, "Dry sows").click()
    _choice(tray, "No group").click()
    assert stage.placing.group_uid == ""
    assert stage.placing.in_on is None
    _choice(tray, "No group").click()
    _choice(tray, "Weaners").click()
    assert stage.placing.group_uid == "group1"


def test_only_the_chosen_group_is_shown_until_the_list_is_opened(tray: QWidget, stage: Stage) -> None:
    def shown() -> list[str]:
        return [
            each.text() for each in tray.findChildren(ChoiceButton) if not each.isHidden() and "m," not in each.text()
        ]

    assert shown() == ["Dry sows"]
    assert _choice(tray, "Dry sows").accessibleName().endswith("; others to choose from")
    _choice(tray, "Dry sows").click()
    assert shown() == ["Dry sows", "Weaners", "No group"]
    _choice(tray, "Weaners").click()
    assert shown() == ["Weaners"]


def test_a_stay_that_was_planned_moves_the_day_on(tray: QWidget, stage: Stage) -> None:
    assert stage.placing.in_on == day(8)
    stage.session.do(plan_stay("group0", "group0p0", day(8), day(8) + timedelta(days=6))).result()
    assert stage.placing.in_on == day(14)
    assert day_free(stage, "group0") == day(14)


def test_pigs_that_stand_with_no_day_out_go_on_tomorrow_unless_a_later_day_is_shown(
    tray: QWidget, stage: Stage
) -> None:
    stays = stage.session.farm.stays.values()
    (last,) = [stay for stay in stays if stay.group_uid == "group0" and stay.out_on == day(8)]
    stage.session.do(amend("stays", last.uid, out_on=None)).result()
    assert day_free(stage, "group0") == day(1)
    stage.show_day(day(5))
    assert day_free(stage, "group0") == day(5)


def test_snapping_can_be_switched_off(tray: QWidget, stage: Stage) -> None:
    switch = next(each for each in tray.findChildren(WordButton) if each.text() == "Fence")
    assert switch.isChecked()
    switch.click()
    assert stage.placing.choice.snap_fence is False


def test_another_hand_on_the_choice_shows_in_the_tray(tray: QWidget, stage: Stage) -> None:
    stage.placing.choose(nets_long=4)
    assert tray.findChildren(Stepper)[0].accessibleName() == "Nets long: 4"


def test_a_farm_without_nets_says_how_many_and_how_long_and_goes_on(qtbot: QtBot, tmp_path: Path) -> None:
    with made_stage(tmp_path, empty=True) as stage, made_panel(stage, "tray", (292, 760)) as tray:
        said: list[str] = []
        stage.noticed.connect(lambda notice: said.append(stage.words(notice.text)))
        stage.take_up("place")
        assert not stage.session.farm.net_kinds
        own = next(each for each in tray.findChildren(Stepper) if each.accessibleName().startswith("Nets you own"))
        assert own.accessibleName() == "Nets you own"
        for _ in range(7):
            own.stepped.emit(1)
        assert own.accessibleName() == "Nets you own: 7"
        _choice(tray, "50 m nets").click()
        (kind,) = stage.session.farm.net_kinds.values()
        assert (kind.length_m, kind.posts, len(stage.session.farm.nets)) == (50, 15, 7)
        assert said == ["50 m nets added: 7 of them."]
        assert stage.placing.kind_uid == kind.uid
        assert own.accessibleName() == "Nets you own: 7"
        assert _choice(tray, "50 m, 15 posts")


def test_nets_chosen_without_a_number_ask_for_it(qtbot: QtBot, tmp_path: Path) -> None:
    with made_stage(tmp_path, empty=True) as stage, made_panel(stage, "tray", (292, 760)) as tray:
        said: list[str] = []
        stage.noticed.connect(lambda notice: said.append(stage.words(notice.text)))
        stage.take_up("place")
        _choice(tray, "50 m nets").click()
        assert said == ["50 m nets added. Say how many you own."]
        own = next(each for each in tray.findChildren(Stepper) if each.accessibleName().startswith("Nets you own"))
        assert own.isVisible()
        own.stepped.emit(1)
        assert own.accessibleName() == "Nets you own: 1"


def _switch(tray: QWidget, words: str) -> WordButton:
    return next(each for each in tray.findChildren(WordButton) if each.text() == words)


def test_what_stands_today_leads_on_to_its_corners_for_the_same_group(tray: QWidget, stage: Stage) -> None:
    stage.placing.choose(group_uid="group1")
    _switch(tray, "Stands today").click()
    assert (stage.verb, stage.picked) == ("stand", Picked("groups", "group1"))


def test_the_tray_begins_with_the_next_paddock_whatever_was_chosen_before(tray: QWidget, stage: Stage) -> None:
    _switch(tray, "Stands today").click()
    stage.take_up("place")
    assert _switch(tray, "Next paddock").isChecked()
    assert not _switch(tray, "Stands today").isChecked()
    _switch(tray, "Next paddock").click()
    assert stage.verb == "place"
    assert _switch(tray, "Next paddock").isChecked()


@pytest.mark.parametrize("text_scale", [0.9, 1.0, 1.2, 1.5])
def test_the_words_of_what_is_to_be_placed_are_whole_in_any_size_of_text(stage: Stage, text_scale: float) -> None:
    stage.text_scale = text_scale
    with made_panel(stage, "tray", (round(248 * (1 + (text_scale - 1) * 0.7)), 760)) as tray:
        stage.take_up("place")
        for words in ("Next paddock", "Stands today"):
            button = next(each for each in tray.findChildren(WordButton) if each.text() == words)
            assert breadth(words, font("strong", stage)) <= button.width() - 4


def _narrow(stage: Stage, wide: int = 900) -> None:
    stage.fit(Room("narrow", wide))


def test_a_narrow_tray_shows_what_is_chosen_and_the_rest_when_it_is_asked_for(stage: Stage) -> None:
    stage.session.do(add_net_kind("25 m nets", (25_000,), nets=4, uid="half")).result()
    _narrow(stage)
    with made_panel(stage, "tray", (900, 400)) as tray:
        stage.take_up("place")

        def shown() -> list[str]:
            return [each.text() for each in tray.findChildren(ChoiceButton) if not each.isHidden()]

        assert shown() == ["50 m, 15 posts, blue tape", "Dry sows"]
        low = tray.sizeHint().height()
        more = next(each for each in tray.findChildren(WordButton) if each.accessibleName() == "All choices")
        assert more.isVisible()
        more.click()
        assert shown() == ["50 m, 15 posts, blue tape", "25 m, 2 posts", "Dry sows", "Weaners", "No group"]
        assert (more.text(), more.accessibleName()) == ("Less", "Fewer choices")
        assert tray.sizeHint().height() > low
        _choice(tray, "25 m, 2 posts").click()
        assert (stage.placing.kind_uid, shown()) == ("half", ["25 m, 2 posts", "Dry sows"])
        _choice(tray, "Dry sows").click()
        _choice(tray, "Weaners").click()
        assert (stage.placing.group_uid, shown()) == ("group1", ["25 m, 2 posts", "Weaners"])


@pytest.mark.parametrize("wide", [560, 700, 900, 990])
@pytest.mark.parametrize("text_scale", [0.9, 1.0, 1.5])
@pytest.mark.parametrize("opened", [False, True])
def test_words_are_whole_and_nothing_lies_on_another_in_a_narrow_tray(
    stage: Stage, wide: int, text_scale: float, opened: bool
) -> None:
    stage.text_scale = text_scale
    _narrow(stage, wide)
    with made_panel(stage, "tray", (wide, 400)) as tray:
        stage.take_up("place")
        if opened:
            next(each for each in tray.findChildren(WordButton) if each.accessibleName() == "All choices").click()
        shown = [
            each
            for kind in (WordButton, ChoiceButton, Stepper)
            for each in tray.findChildren(kind)
            if each.isVisible() and isinstance(each, QWidget)
        ]
        assert len(shown) >= 6
        for each in shown:
            if isinstance(each, ChoiceButton):
                assert each.width() >= each.wide() - 1
            elif isinstance(each, WordButton):
                assert breadth(each.text(), font("strong", stage)) <= each.width() - 4
            assert each.mapTo(tray, each.rect().topRight()).x() <= wide - 12
        boxes = [QRect(each.mapTo(tray, QPoint(0, 0)), each.size()) for each in shown]
        assert not [(one, other) for one, other in combinations(boxes, 2) if one.intersects(other)]


def test_a_narrow_tray_leaves_most_of_the_window_to_the_map(qtbot: QtBot, tmp_path: Path) -> None:
    with made_window(tmp_path, size=(900, 700), text_scale=1.5) as window:
        window.stage.take_up("place")
        QApplication.processEvents()
        tray = window.panel("tray")
        assert tray is not None
        assert window.map.height() > tray.height()
        assert window.map.height() >= 260


def test_the_tab_key_goes_through_a_narrow_tray_line_by_line(stage: Stage) -> None:
    _narrow(stage)
    with made_panel(stage, "tray", (900, 400)) as tray:
        stage.take_up("place")
        way: list[str] = []
        at: QWidget | None = _choice(tray, "50 m, 15 posts, blue tape")
        while at is not None and len(way) < 14:
            if at.focusPolicy() & Qt.FocusPolicy.TabFocus and at.isVisible():
                way.append(at.accessibleName())
            at = at.nextInFocusChain()
        assert way[:4] == [
            "50 m, 15 posts, blue tape, 3 spare, 11 owned",
            "Dry sows, 8 pigs, 80 kg each; others to choose from",
            "All choices",
            "Nets long",
        ]
        assert way[4:6] == ["Nets long: one less", "Nets long: one more"]
        assert way[9:14] == ["In on: one less", "In on: one more", "Last side", "Fence", "Field edge"]


@pytest.mark.parametrize("size", [(1024, 600), (1280, 800), (1600, 1000)])
def test_the_day_in_is_in_sight_without_scrolling(qtbot: QtBot, tmp_path: Path, size: tuple[int, int]) -> None:
    with made_window(tmp_path, size=size) as window:
        window.stage.session.do(add_net_kind("25 m nets", (25_000,), nets=4, uid="half")).result()
        window.stage.take_up("place")
        QApplication.processEvents()
        tray = window.panel("tray")
        assert tray is not None
        day_in = next(each for each in tray.findChildren(Stepper) if each.accessibleName().startswith("In on"))
        assert tray.rect().contains(QRect(day_in.mapTo(tray, QPoint(0, 0)), day_in.size()))


def test_where_the_column_is_low_the_kinds_of_net_fold_to_the_chosen_one(stage: Stage) -> None:
    stage.session.do(add_net_kind("25 m nets", (25_000,), nets=4, uid="half")).result()
    with made_panel(stage, "tray", (292, 420)) as tray:
        stage.take_up("place")

        def shown() -> list[str]:
            return [each.text() for each in tray.findChildren(ChoiceButton) if not each.isHidden()]

        assert shown() == ["50 m, 15 posts, blue tape", "Dry sows"]
        _choice(tray, "50 m, 15 posts, blue tape").click()
        assert shown()[:2] == ["50 m, 15 posts, blue tape", "25 m, 2 posts"]
        _choice(tray, "25 m, 2 posts").click()
        assert (stage.placing.kind_uid, shown()) == ("half", ["25 m, 2 posts", "Dry sows"])


# Sides of nets of more than one length


@pytest.fixture
def mixing(tray: QWidget, stage: Stage) -> QWidget:
    stage.session.do(add_net_kind("25 m nets", (25_000,), nets=4, uid="half")).result()
    _switch(tray, "Mix lengths").click()
    return tray


def _stepper(tray: QWidget, label: str) -> Stepper:
    shown = (each for each in tray.findChildren(Stepper) if not each.isHidden())
    return next(each for each in shown if each.accessibleName().startswith(label))


def test_lengths_can_be_mixed_where_there_are_several(tray: QWidget, stage: Stage) -> None:
    assert _switch(tray, "Mix lengths").isHidden()
    stage.session.do(add_net_kind("25 m nets", (25_000,), nets=4, uid="half")).result()
    assert not _switch(tray, "Mix lengths").isHidden()
    stage.placing.choose(free=True)
    assert _switch(tray, "Mix lengths").isHidden()


def test_each_kind_has_steppers_for_long_and_wide_while_lengths_are_mixed(mixing: QWidget, stage: Stage) -> None:
    _stepper(mixing, "25 m long").stepped.emit(1)
    assert stage.placing.choice.side_nets == ((("fifty", 1), ("half", 1)), (("fifty", 1),)) * 2
    assert _stepper(mixing, "25 m long").accessibleName() == "25 m long: 1"
    _stepper(mixing, "50 m wide").stepped.emit(-1)
    assert stage.placing.choice.side_nets[1] == (("fifty", 1),)
    _switch(mixing, "Mix lengths").click()
    assert not stage.placing.mixed
    assert _stepper(mixing, "Nets long").accessibleName() == "Nets long: 1"


def test_a_number_that_is_typed_is_that_of_its_kind(mixing: QWidget, stage: Stage) -> None:
    _stepper(mixing, "25 m wide").typed.emit("2")
    assert stage.placing.choice.side_nets[1] == (("fifty", 1), ("half", 2))


def test_the_nets_of_a_side_are_typed_in_words(tray: QWidget, stage: Stage) -> None:
    stage.session.do(add_net_kind("25 m nets", (25_000,), nets=4, uid="half")).result()
    _stepper(tray, "Nets long").typed.emit("2 of 50 m and 1 of 25 m")
    assert stage.placing.choice.side_nets[0] == (("fifty", 2), ("half", 1))
    _stepper(tray, "50 m long").typed.emit("1 of 50 m / 2 of 25 m")
    assert stage.placing.choice.side_nets == (
        (("fifty", 1),), (("fifty", 1),), (("half", 2),), (("fifty", 1),)
    )  # fmt: skip


def test_words_that_tell_no_nets_leave_the_sides_and_say_why(mixing: QWidget, stage: Stage) -> None:
    told: list[str] = []
    stage.noticed.connect(lambda notice: told.append(stage.words(notice.text)))
    before = stage.placing.choice
    _stepper(mixing, "50 m long").typed.emit("a few")
    assert stage.placing.choice == before
    assert "does not say which nets a side has" in told[-1]


def test_all_steppers_of_mixed_lengths_are_inside_a_narrow_tray(stage: Stage) -> None:
    stage.session.do(add_net_kind("25 m nets", (25_000,), nets=4, uid="half")).result()
    _narrow(stage)
    with made_panel(stage, "tray", (700, 700)) as tray:
        stage.take_up("place")
        stage.placing.mix(True)
        shown = [each for each in tray.findChildren(Stepper) if not each.isHidden()]
        assert [each.accessibleName().split(":")[0] for each in shown if "m " in each.accessibleName()] == [
            "50 m long", "50 m wide", "25 m long", "25 m wide"
        ]  # fmt: skip
        for one, other in combinations(shown, 2):
            assert not one.geometry().intersects(other.geometry())
