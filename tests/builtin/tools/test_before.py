from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
import shapely
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pigmap.builtin.tools.before_plate import BeforePlate
from pigmap.qt.stage import Picked
from pigmap.records import GroundJob, GroundJobKind
from pigmap.records.season import Season, about_season
from tests.builtin.tools.map_hand import Hand, made_hand


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path) as made:
        made.look(-50, -50, 650, 300)
        made.stage.pick(Picked("fields", "field"))
        made.take_up("before")
        yield made


def plate(hand: Hand) -> BeforePlate:
    found = [each for each in hand.map.findChildren(BeforePlate) if each.isVisible()]
    return found[-1]


def jobs(hand: Hand) -> list[GroundJob]:
    return sorted(hand.stage.session.farm.ground_jobs.values(), key=lambda job: job.position)


def choose(hand: Hand, season: Season = Season.AUTUMN, year: str = "2024", score: int = 3) -> None:
    its = plate(hand)
    its.when.setCurrentIndex(list(Season).index(season))
    its.typed.setText(year)
    its.hard.setCurrentIndex(score)


def test_a_drag_brushes_a_part_as_one_edit_that_undo_takes_back(hand: Hand) -> None:
    choose(hand)
    hand.drag((50.0, 100.0), (250.0, 100.0))
    (job,) = jobs(hand)
    assert job.kind is GroundJobKind.USED_BEFORE
    assert (job.happened_on, job.within_days) == about_season(Season.AUTUMN, 2024)
    assert job.rooting_score == 3
    west, south, east, north = job.shape.bounds
    assert east - west == pytest.approx(220, abs=4)
    assert north - south == pytest.approx(20, abs=2)
    assert hand.words == "Told of part of a field: pigs about autumn 2024, hard."
    assert plate(hand).whole.text() == "All of Top Field (Enter)"  # the field of the stroke, whatever was picked
    hand.stage.session.undo().result()
    assert jobs(hand) == []


def test_enter_after_the_year_tells_of_nothing_yet(hand: Hand) -> None:
    hand.stage.pick(Picked("fields", "field"))
    plate(hand).typed.setFocus()
    QTest.keyClick(plate(hand).typed, Qt.Key.Key_Return)
    assert jobs(hand) == []
    hand.key(Qt.Key.Key_Return)
    assert len(jobs(hand)) == 1


def test_a_click_tells_of_the_whole_field(hand: Hand) -> None:
    hand.key(Qt.Key.Key_N)
    hand.click(200, 100)
    (job,) = jobs(hand)
    assert job.kind is GroundJobKind.NEVER_USED
    assert job.shape.equals(hand.stage.session.farm.fields["field"].outline)
    assert hand.words == "Told of Top Field: never used."


def test_enter_tells_of_the_picked_field_without_a_mouse(hand: Hand) -> None:
    hand.key(Qt.Key.Key_K)
    hand.key(Qt.Key.Key_Return)
    (job,) = jobs(hand)
    assert job.kind is GroundJobKind.UNKNOWN
    assert job.shape.equals(hand.stage.session.farm.fields["field"].outline)


def test_the_plate_offers_all_of_the_picked_field(hand: Hand) -> None:
    assert plate(hand).whole.text() == "All of Top Field (Enter)"
    hand.key(Qt.Key.Key_N)
    QTest.mouseClick(plate(hand).whole, Qt.MouseButton.LeftButton)
    hand.settle()
    assert [job.kind for job in jobs(hand)] == [GroundJobKind.NEVER_USED]


def test_a_part_is_typed_corner_by_corner_without_a_mouse(hand: Hand) -> None:
    hand.key(Qt.Key.Key_N)
    for words in ("E 20 N 100", "100 at 90", "40 at 0", "100 at 270"):
        hand.type(words)
    hand.key(Qt.Key.Key_Return)
    (job,) = jobs(hand)
    assert job.shape.equals(
        shapely.box(20, 100, 120, 140).intersection(hand.stage.session.farm.fields["field"].outline)
    )


def test_corners_are_clicked_where_the_outline_is_chosen(hand: Hand) -> None:
    hand.key(Qt.Key.Key_N)
    plate(hand).choose_width(99)
    for corner in ((20.0, 60.0), (120.0, 60.0), (120.0, 100.0), (20.0, 100.0)):
        hand.click(*corner)
    assert jobs(hand) == []
    hand.key(Qt.Key.Key_Return)
    (job,) = jobs(hand)
    assert job.shape.area == pytest.approx(4000, rel=0.05)


def test_two_corners_are_refused_and_stay(hand: Hand) -> None:
    plate(hand).choose_width(99)
    hand.click(20, 100)
    hand.click(120, 100)
    hand.key(Qt.Key.Key_Return)
    assert jobs(hand) == []
    assert hand.said[-1].kind == "refused"
    assert len(hand.tool._corners.points) == 2


def test_the_breadth_of_the_brush_is_chosen(hand: Hand) -> None:
    hand.key(Qt.Key.Key_N)
    plate(hand).choose_width(0)
    hand.drag((50.0, 100.0), (250.0, 100.0))
    _, south, _, north = jobs(hand)[0].shape.bounds
    assert north - south == pytest.approx(5, abs=1)


def test_a_later_stroke_lies_over_an_earlier_one(hand: Hand) -> None:
    hand.key(Qt.Key.Key_N)
    hand.click(200, 100)
    hand.key(Qt.Key.Key_U)
    choose(hand)
    hand.drag((50.0, 100.0), (250.0, 100.0))
    assert [(job.kind, job.position) for job in jobs(hand)] == [
        (GroundJobKind.NEVER_USED, 0),
        (GroundJobKind.USED_BEFORE, 1),
    ]


def test_a_year_to_come_is_refused_and_the_keys_go_to_the_year(hand: Hand) -> None:
    choose(hand, Season.SPRING, "2031")
    hand.drag((50.0, 100.0), (250.0, 100.0))
    assert jobs(hand) == []
    assert hand.words.startswith("2031 is not a year that pigs could have been there. Give a year of four figures")
    assert plate(hand).typed.hasFocus()


def test_beside_all_fields_nothing_is_told(hand: Hand) -> None:
    hand.key(Qt.Key.Key_N)
    hand.click(-45, -45)
    assert hand.words == "There is no field there. Click inside a field, or drag over the part you mean."
    hand.drag((-48.0, -48.0), (-46.0, 280.0))
    assert jobs(hand) == []
    assert hand.words == "What was brushed touches no field. Brush inside a field, or draw a field there first (D)."


def test_only_a_use_asks_when_and_how_hard(hand: Hand) -> None:
    assert plate(hand).typed.isVisible()
    hand.key(Qt.Key.Key_N)
    assert not plate(hand).typed.isVisible()
    hand.key(Qt.Key.Key_U)
    assert plate(hand).hard.isVisible()


def test_how_hard_is_chosen_in_words_with_the_share_they_stand_for(hand: Hand) -> None:
    its = plate(hand).hard
    assert [its.itemText(at) for at in range(its.count())] == [
        "hardly rooted",
        "lightly: a quarter rooted",
        "half rooted",
        "hard: most rooted",
        "all of it rooted",
        "nobody knows how hard",
    ]


def test_a_day_is_typed_where_the_day_is_known(hand: Hand) -> None:
    its = plate(hand)
    its.when.setCurrentIndex(5)
    its.typed.setText("2024-10-03")
    its.hard.setCurrentIndex(its.hard.count() - 1)
    hand.key(Qt.Key.Key_Return)
    (job,) = jobs(hand)
    assert (job.happened_on, job.within_days, job.rooting_score) == (date(2024, 10, 3), None, None)


def test_everything_on_the_plate_has_a_name_and_is_reached_by_tab(hand: Hand) -> None:
    its = plate(hand)
    for each in (*its.kinds, its.when, its.typed, its.hard, its.width_box, its.whole):
        assert each.accessibleName()
        assert each.focusPolicy() & Qt.FocusPolicy.TabFocus


def test_tab_goes_from_the_map_through_the_plate(hand: Hand) -> None:
    its = plate(hand)
    assert hand.map.hasFocus()
    seen = []
    for _ in range(9):
        here = QApplication.focusWidget()
        assert here is not None
        QTest.keyClick(here, Qt.Key.Key_Tab)
        seen.append(QApplication.focusWidget())
    assert seen == [*its.kinds, its.when, its.typed, its.hard, its.width_box, its.whole]


def test_the_ground_follows_at_once(hand: Hand) -> None:
    hand.key(Qt.Key.Key_N)
    hand.key(Qt.Key.Key_Return)
    hand.settle()
    state = hand.stage.session.ground.state("field", hand.stage.day, hand.stage.today)
    assert state is not None
    assert state.by_field is not None
    assert state.by_field.unknown == 0.0
