from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
import shapely
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.net_line import net_lines, net_ways
from pigmap.builtin.panels.verb_button import VerbButton
from pigmap.builtin.panels.verbs import Verbs
from pigmap.document.edits import rain_in_gauge, set_net_condition
from pigmap.qt.nets import carried, tallies
from pigmap.qt.paintwork import breadth
from pigmap.qt.stage import Room, Stage
from pigmap.qt.theme import font
from pigmap.records import NetCondition
from pigmap.text import Text
from tests.qt.window_farm import TODAY, day, made_panel, made_stage


@pytest.fixture
def stage(qtbot: QtBot, tmp_path: Path) -> Iterator[Stage]:
    with made_stage(tmp_path) as made:
        yield made


@pytest.fixture
def verbs(stage: Stage) -> Iterator[QWidget]:
    with made_panel(stage, "verbs", (1600, 68)) as made:
        yield made


def _buttons(verbs: QWidget) -> dict[str, VerbButton]:
    return {button.text(): button for button in verbs.findChildren(VerbButton)}


def test_only_verbs_that_work_are_there(verbs: QWidget) -> None:
    hands, heads = ["Pick", "Draw", "Place", "Check", "Measure"], ["Moves", "Sheet"]
    assert list(_buttons(verbs)) == [*hands, *heads, "Undo", "Redo", "Find", "More"]


def test_a_verb_is_inked_while_it_runs(verbs: QWidget, stage: Stage) -> None:
    buttons = _buttons(verbs)
    assert buttons["Pick"].isChecked()
    buttons["Measure"].click()
    assert stage.verb == "measure"
    assert buttons["Measure"].isChecked()
    assert not buttons["Pick"].isChecked()
    buttons["Measure"].click()
    assert buttons["Measure"].isChecked()


def test_undo_says_what_it_would_take_back(verbs: QWidget, stage: Stage) -> None:
    buttons = _buttons(verbs)
    assert buttons["Undo"].isEnabled()
    assert buttons["Undo"].toolTip() == "Undo: Made for a test. (Ctrl Z)"
    assert not buttons["Redo"].isEnabled()
    stage.session.undo().result()
    assert buttons["Redo"].toolTip() == "Redo: Made for a test. (Ctrl Shift Z)"


def test_the_sheet_is_asked_for(verbs: QWidget, qtbot: QtBot) -> None:
    with qtbot.waitSignal(verbs.sheet_asked):  # type: ignore[attr-defined]
        _buttons(verbs)["Sheet"].click()


def test_the_nets_are_counted_in_a_line(stage: Stage) -> None:
    assert net_lines(stage) == ("11 nets owned, 8 standing", "spare 3 \u00d7 50 m")
    stage.session.do(set_net_condition("net0", NetCondition.DAMAGED)).result()
    assert net_lines(stage) == ("11 nets owned, 8 standing", "spare 2 \u00d7 50 m, 1 in repair")


def test_a_row_with_less_room_says_less_of_the_nets_and_cuts_no_word_off(stage: Stage) -> None:
    stage.session.do(set_net_condition("net0", NetCondition.DAMAGED)).result()
    first, rest = net_ways(stage)
    assert first == ("11 nets owned, 8 standing", "8 of 11 nets stand")
    assert rest == ("spare 2 \u00d7 50 m, 1 in repair", "spare 2 \u00d7 50 m", "2 nets spare")


def test_no_nets_are_said(qtbot: QtBot, tmp_path: Path) -> None:
    with made_stage(tmp_path, empty=True) as stage:
        assert net_lines(stage) == ("No nets yet", "")


def test_nets_stand_from_the_day_they_were_set(stage: Stage) -> None:
    farm = stage.session.farm
    assert tallies(farm, day(-30), TODAY)["fifty"].standing == 0
    assert tallies(farm, day(5), TODAY)["fifty"].standing == 7  # the two planned paddocks share a side
    assert tallies(farm, TODAY, TODAY)["fifty"].standing == 8


def test_a_net_left_on_the_shared_side_stands_for_the_paddock_after(stage: Stage) -> None:
    farm = stage.session.farm
    west = next(use for use in farm.net_uses.values() if use.paddock_uid == "group0p2")
    ring = farm.paddocks["group0p2"].outline
    shared = shapely.LineString([(ring.bounds[0], ring.bounds[1]), (ring.bounds[0], ring.bounds[3])])
    left = replace(west, paddock_uid="group0p1", run=shared)
    later = replace(farm, net_uses={**farm.net_uses, west.uid: left})
    assert tallies(later, TODAY, TODAY)["fifty"].standing == 8
    far = replace(left, run=shapely.LineString([(300, 300), (300, 350)]))
    assert tallies(replace(farm, net_uses={**farm.net_uses, west.uid: far}), TODAY, TODAY)["fifty"].standing == 8


def test_four_nets_for_the_first_square_and_three_for_one_that_shares_a_side(stage: Stage) -> None:
    farm = stage.session.farm
    first, second = farm.stays["group0s0"], farm.stays["group0s1"]
    assert carried(farm, None, first) == (4, 0)
    assert carried(farm, first, second) == (3, 1)
    walked = replace(
        farm, paddocks={**farm.paddocks, "group0p1": replace(farm.paddocks["group0p1"], net_kind_uid=None)}
    )
    assert carried(walked, first, second) is None


@pytest.mark.parametrize("wide", [600, 700, 960, 1024, 1280])
def test_no_button_lies_on_another_however_short_the_row(verbs: QWidget, stage: Stage, wide: int) -> None:
    stage.fit(Room("narrow" if wide < 1000 else "small", 248))
    verbs.resize(wide, 60)
    shown = [button for button in verbs.findChildren(VerbButton) if not button.isHidden()]
    shown.sort(key=lambda button: button.x())
    assert {"Pick", "Draw", "Place", "Moves", "More"} <= {button.text() for button in shown}
    for one, other in pairwise(shown):
        assert one.geometry().right() < other.geometry().left()
    assert shown[-1].geometry().right() < wide


def test_the_line_of_the_day_keeps_off_the_buttons_and_is_said_in_fewer_words_first(
    verbs: QWidget, stage: Stage
) -> None:
    assert isinstance(verbs, Verbs)
    stage.session.do(rain_in_gauge(stage.today, 12.0)).result()
    face = font("second", stage)
    said = [verbs._day_line(wide) for wide in (600.0, 235.0, 190.0, 120.0, 84.0)]
    assert said == [
        "Wednesday 13 May 2026, 12.0 mm of rain",
        "Wed 13 May 2026, 12.0 mm of rain",
        "Wed 13 May, 12.0 mm of rain",
        "Wed 13 May 2026",
        "Wed 13 May",
    ]
    assert all(breadth(words, face) <= wide for words, wide in zip(said[1:], (235, 190, 120, 84), strict=True))


def test_a_farm_that_can_only_be_read_says_so_in_full_beside_a_shorter_day(verbs: QWidget, stage: Stage) -> None:
    assert isinstance(verbs, Verbs)
    stage.session.read_only = Text("It is open in another window.")
    words = verbs._day_line(235)
    assert words.endswith(", for reading only")
    assert breadth(words, font("second", stage)) <= 235
    assert verbs._day_line(1000) != words
