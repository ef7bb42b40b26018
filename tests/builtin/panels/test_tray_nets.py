from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.another_length import AnotherLength
from pigmap.builtin.panels.card_field import CardField
from pigmap.builtin.panels.nets_typed import kind_typed
from pigmap.builtin.panels.tray_nets import all_nets_words
from pigmap.document.edits import change_setting
from pigmap.errors import EditError
from pigmap.qt.buttons import Button, WordButton
from pigmap.qt.following import undo
from pigmap.qt.nets import tallies
from pigmap.qt.stage import Room, Stage
from pigmap.qt.stepper import Stepper
from tests.qt.window_farm import TODAY, made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        made.said = []  # type: ignore[attr-defined]
        made.noticed.connect(lambda notice: made.said.append(made.words(notice.text)))  # type: ignore[attr-defined]
        yield made


@pytest.fixture
def tray(stage: Stage) -> Iterator[QWidget]:
    with made_panel(stage, "tray", (292, 760)) as made:
        stage.take_up("place")
        yield made


def _said(stage: Stage) -> str:
    said: list[str] = stage.said  # type: ignore[attr-defined]
    return said[-1]


def _own(tray: QWidget) -> Stepper:
    return next(each for each in tray.findChildren(Stepper) if each.accessibleName().startswith("Nets you own"))


def _unfold(tray: QWidget) -> WordButton:
    fold = next(each for each in tray.findChildren(WordButton) if each.text() == "More")
    QTest.mouseClick(fold, Qt.MouseButton.LeftButton)
    return fold


def _owned(stage: Stage, kind: str) -> int:
    return tallies(stage.session.farm, TODAY, TODAY)[kind].owned


def _line(tray: QWidget) -> CardField:
    box = tray.findChildren(AnotherLength)[0]
    QTest.mouseClick(box.findChildren(WordButton)[0], Qt.MouseButton.LeftButton)
    return box.findChildren(CardField)[0]


@pytest.mark.parametrize("room", ["usual", "small"])
def test_what_is_owned_is_folded_under_a_word_that_keys_open(stage: Stage, tray: QWidget, room: str) -> None:
    stage.fit(Room(room, 292))
    own, line = _own(tray), tray.findChildren(AnotherLength)[0]
    assert (own.isHidden(), line.isHidden()) == (True, False)
    fold = next(each for each in tray.findChildren(WordButton) if each.text() == "More")
    assert fold.height() >= 44
    QTest.keyClick(fold, Qt.Key.Key_Space)
    assert (own.isHidden(), line.isHidden()) == (False, False)
    assert fold.geometry().bottom() < own.geometry().top() < line.geometry().top()
    QTest.keyClick(fold, Qt.Key.Key_Return)
    assert (own.isHidden(), line.isHidden()) == (True, False)


def test_the_number_owned_is_stepped_by_mouse_and_by_keys(qtbot: QtBot, stage: Stage, tray: QWidget) -> None:
    _unfold(tray)
    own = _own(tray)
    less, more = own.findChildren(Button)
    assert own.accessibleName() == "Nets you own: 11"
    QTest.mouseClick(more, Qt.MouseButton.LeftButton)
    assert own.accessibleName() == "Nets you own: 12"
    qtbot.waitUntil(lambda: _owned(stage, "fifty") == 12)
    assert _said(stage) == "50 m: 12 nets owned."
    QTest.keyClick(less, Qt.Key.Key_Return)
    QTest.keyClick(less, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: _owned(stage, "fifty") == 10)


def test_quick_steps_are_taken_back_at_once(qtbot: QtBot, stage: Stage, tray: QWidget) -> None:
    _unfold(tray)
    own, before = _own(tray), stage.session.undo_label
    more = own.findChildren(Button)[1]
    for _ in range(14):
        QTest.mouseClick(more, Qt.MouseButton.LeftButton)
    assert own.accessibleName() == "Nets you own: 25"
    qtbot.waitUntil(lambda: _owned(stage, "fifty") == 25)
    assert str(stage.session.undo_label) == "50 m: 25 nets owned."
    undo(stage)
    assert stage.session.undo_label == before
    assert own.accessibleName() == "Nets you own: 11"


def test_steps_that_the_session_does_not_know_yet_are_taken_back_too(stage: Stage, tray: QWidget) -> None:
    _unfold(tray)
    own, before = _own(tray), stage.session.undo_label
    QTest.mouseClick(own.findChildren(Button)[1], Qt.MouseButton.LeftButton)
    undo(stage)
    assert (_said(stage), own.accessibleName()) == ("Taken back: 50 m: 12 nets owned.", "Nets you own: 11")
    assert (stage.session.undo_label, stage.not_yet) == (before, None)


@pytest.mark.parametrize("leave", [lambda stage: stage.take_up("pick"), lambda stage: None])
def test_steps_are_kept_by_who_goes_on_or_closes_the_window(
    stage: Stage, tray: QWidget, leave: Callable[[Stage], None]
) -> None:
    _unfold(tray)
    QTest.mouseClick(_own(tray).findChildren(Button)[1], Qt.MouseButton.LeftButton)
    leave(stage)
    tray.close_down()  # type: ignore[attr-defined]
    assert _owned(stage, "fifty") == 12


def _type(own: Stepper, words: str) -> None:
    assert own.line is not None
    own.line.setFocus()
    own.line.selectAll()
    QTest.keyClicks(own.line, words)
    QTest.keyClick(own.line, Qt.Key.Key_Return)


@pytest.mark.parametrize(("typed", "owned"), [("14", 14), (" 12 ", 12), ("14 x 50 m", 14), ("3 50", 3), ("0", 0)])
def test_the_number_owned_is_typed_too(stage: Stage, tray: QWidget, typed: str, owned: int) -> None:
    _unfold(tray)
    _type(_own(tray), typed)
    assert _owned(stage, "fifty") == owned
    assert _own(tray).accessibleName() == f"Nets you own: {owned}"
    assert len(stage.session.farm.net_kinds) == 1


def test_a_number_is_typed_over_the_one_that_stands_there(stage: Stage, tray: QWidget) -> None:
    _unfold(tray)
    line = _own(tray).line
    assert line is not None
    tray.window().activateWindow()
    QTest.mouseClick(line, Qt.MouseButton.LeftButton)
    for typed in ("14", "12"):
        QTest.keyClicks(line, typed)
        QTest.keyClick(line, Qt.Key.Key_Return)
        assert _owned(stage, "fifty") == int(typed)


@pytest.mark.parametrize("typed", ["some", "-2", "1.5", "4 x", "2000"])
def test_a_number_owned_that_cannot_be_stays_typed(stage: Stage, tray: QWidget, typed: str) -> None:
    _unfold(tray)
    _type(_own(tray), typed)
    line = _own(tray).line
    assert line is not None
    assert ("Give" in _said(stage), line.text(), _owned(stage, "fifty")) == (True, typed, 11)


def test_fewer_nets_than_stand_are_taken_and_said(qtbot: QtBot, stage: Stage, tray: QWidget) -> None:
    _unfold(tray)
    standing = tallies(stage.session.farm, TODAY, TODAY)["fifty"].standing
    assert standing > 1
    _type(_own(tray), "1")
    assert _owned(stage, "fifty") == 1
    assert _said(stage) == f"50 m: {standing} stand; you own 1."
    assert stage.notices[-1].kind == "care"
    names = [each.accessibleName() for each in tray.findChildren(Button)]
    assert any(name.endswith(f"{standing} stand, 1 owned") for name in names)


def test_the_tab_key_goes_through_the_tray_as_it_is_read(stage: Stage, tray: QWidget) -> None:
    fold = _unfold(tray)
    way: list[str] = []
    at: QWidget | None = fold.nextInFocusChain()
    while at is not None and len(way) < 6:
        if at.focusPolicy() & Qt.FocusPolicy.TabFocus and at.isVisible():
            way.append(at.accessibleName())
        at = at.nextInFocusChain()
    assert way == [
        "Nets you own: one less",
        "Nets you own",
        "Nets you own: one more",
        "Add another length of nets",
        "Next paddock",
        "Stands today",
    ]


def test_another_length_is_one_line_and_what_was_chosen_stays(qtbot: QtBot, stage: Stage, tray: QWidget) -> None:
    _unfold(tray)
    line = _line(tray)
    assert line.accessibleName() == "How many, how long: 4 x 25 m"
    QTest.keyClicks(line, "4 x 25 m")
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert stage.placing.kind_uid == "fifty"
    (kind,) = [each for uid, each in stage.session.farm.net_kinds.items() if uid != "fifty"]
    assert (kind.name, kind.length_m, kind.posts, _owned(stage, kind.uid)) == ("25 m nets", 25, 8, 4)
    assert _said(stage) == "25 m nets added: 4 of them, 8 posts each."
    assert line.isHidden()
    stage.placing.choose(kind_uid=kind.uid)
    _own(tray).stepped.emit(1)
    qtbot.waitUntil(lambda: _owned(stage, kind.uid) == 5)
    assert (_owned(stage, kind.uid), _owned(stage, "fifty")) == (5, 11)
    assert all_nets_words(stage) == "16 nets: 11 of 50 m, 5 of 25 m"


def test_what_cannot_be_stays_typed(stage: Stage, tray: QWidget) -> None:
    _unfold(tray)
    line = _line(tray)
    QTest.keyClicks(line, "some")
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert _said(stage) == "'some' does not say how many nets, how long. Give both, such as 4 x 25 m."
    assert (line.isHidden(), line.text()) == (False, "some")
    QTest.keyClick(line, Qt.Key.Key_Escape)
    assert line.isHidden()
    assert len(stage.session.farm.net_kinds) == 1


@pytest.mark.parametrize("typed", ["4 x 25 m", "4 25", "4,25", "4 nets of 25m", "4 \u00d7 25,0", " 4X25 "])
def test_how_many_how_long_is_taken_as_it_comes(stage: Stage, typed: str) -> None:
    kind = kind_typed(stage.session.farm, typed, "metric")
    assert (kind.nets, kind.length_m, kind.posts) == (4, 25.0, 8)


def test_feet_are_taken_where_feet_are_shown(stage: Stage) -> None:
    stage.session.do(change_setting("units", "us")).result()
    assert kind_typed(stage.session.farm, "4 x 80", stage.units).length_m == pytest.approx(24.384)
    assert kind_typed(stage.session.farm, "4 x 25 m", stage.units).length_m == 25.0


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("0 x 25", "The number of nets is 0. Give a number from 1 to 999."),
        ("4 x -25", "The length of a net is -25 m. Give a length from 2 m to 500 m."),
        ("4 x 0", "The length of a net is 0 m. Give a length from 2 m to 500 m."),
        ("25 m", "'25 m' does not say how many nets, how long. Give both, such as 4 x 25 m."),
    ],
)
def test_nets_that_cannot_be_are_said(stage: Stage, typed: str, said: str) -> None:
    with pytest.raises(EditError) as raised:
        kind_typed(stage.session.farm, typed, "metric")
    assert str(raised.value) == said


def test_nets_of_a_length_that_there_is_are_counted_anew(stage: Stage, tray: QWidget) -> None:
    _unfold(tray)
    line = _line(tray)
    QTest.keyClicks(line, "14 x 50 m; 2 x 25 m")
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert all_nets_words(stage) == "16 nets: 14 of 50 m, 2 of 25 m"
    assert line.isHidden()


def test_the_first_number_is_typed_and_then_the_length_pressed(qtbot: QtBot, tmp_path: Path) -> None:
    with made_stage(tmp_path, empty=True) as stage, made_panel(stage, "tray", (292, 760)) as tray:
        stage.take_up("place")
        _type(_own(tray), "14")
        usual = next(each for each in tray.findChildren(Button) if each.text() == "50 m nets")
        QTest.mouseClick(usual, Qt.MouseButton.LeftButton)
        (kind,) = stage.session.farm.net_kinds.values()
        assert (kind.length_m, len(stage.session.farm.nets)) == (50, 14)


def test_of_several_kinds_typed_at_first_those_of_which_there_are_most_are_chosen(qtbot: QtBot, tmp_path: Path) -> None:
    with made_stage(tmp_path, empty=True) as stage, made_panel(stage, "tray", (292, 760)) as tray:
        stage.take_up("place")
        _type(_own(tray), "2 x 25 m; 14 x 50 m; 1 x 40")
        kind = stage.placing.kind(stage.session.farm)
        assert kind is not None
        assert kind.length_m == 50
        assert len(stage.session.farm.nets) == 17


def test_a_farm_without_nets_can_begin_with_another_length(qtbot: QtBot, tmp_path: Path) -> None:
    with made_stage(tmp_path, empty=True) as stage, made_panel(stage, "tray", (292, 760)) as tray:
        stage.take_up("place")
        line = _line(tray)
        QTest.keyClicks(line, "6 x 40")
        QTest.keyClick(line, Qt.Key.Key_Return)
        (kind,) = stage.session.farm.net_kinds.values()
        assert (kind.length_m, len(stage.session.farm.nets)) == (40, 6)
