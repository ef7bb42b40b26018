from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from pigmap.builtin.tools.before_plate import BeforePlate
from pigmap.builtin.tools.work_typed import WorkTyped, work_of
from pigmap.errors import EditError
from pigmap.qt.stage import Picked
from pigmap.records import GroundJob, GroundJobKind
from tests.builtin.tools.map_hand import Hand, made_hand


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with made_hand(tmp_path) as made:
        made.look(-50, -50, 650, 300)
        made.stage.pick(Picked("fields", "field"))
        made.take_up("work")
        yield made


def plate(hand: Hand) -> BeforePlate:
    return [each for each in hand.map.findChildren(BeforePlate) if each.isVisible()][-1]


def jobs(hand: Hand) -> list[GroundJob]:
    return sorted(hand.stage.session.farm.ground_jobs.values(), key=lambda job: job.position)


def choose(hand: Hand, kind: GroundJobKind) -> None:
    rows = plate(hand).work
    rows.what.setCurrentIndex(rows.what.findData(kind))


def test_the_brush_of_work_begins_with_work(hand: Hand) -> None:
    assert plate(hand).kind is None
    assert plate(hand).work.isVisible()
    assert not plate(hand).when.isVisible()


def test_j_brings_the_rows_of_work_and_u_those_of_pigs(hand: Hand) -> None:
    hand.key(Qt.Key.Key_U)
    assert not plate(hand).work.isVisible()
    hand.key(Qt.Key.Key_J)
    assert plate(hand).work.isVisible()


def test_only_manure_is_asked_for_its_nitrogen(hand: Hand) -> None:
    choose(hand, GroundJobKind.SEEDED)
    assert not plate(hand).work.nitrogen.isVisible()
    choose(hand, GroundJobKind.MANURE)
    assert plate(hand).work.nitrogen.isVisible()


def test_a_stroke_tells_of_manure_as_one_edit_that_undo_takes_back(hand: Hand) -> None:
    choose(hand, GroundJobKind.MANURE)
    plate(hand).work.day.setText("2026-04-02")
    plate(hand).work.nitrogen.setText("80")
    hand.drag((50.0, 100.0), (250.0, 100.0))
    (job,) = jobs(hand)
    assert (job.kind, job.happened_on, job.n_kg_ha) == (GroundJobKind.MANURE, date(2026, 4, 2), 80.0)
    assert hand.words == "Told of part of a field: manure on Thu 2 Apr 2026, 80 kg/ha of nitrogen."
    hand.stage.session.undo().result()
    assert jobs(hand) == []


def test_a_click_tells_of_sowing_on_the_whole_field(hand: Hand) -> None:
    choose(hand, GroundJobKind.SEEDED)
    plate(hand).work.until.setText("2026-08-01")
    hand.click(200, 100)
    (job,) = jobs(hand)
    assert job.shape.equals(hand.stage.session.farm.fields["field"].outline)
    assert (job.happened_on, job.until_on) == (hand.stage.today, date(2026, 8, 1))


def test_a_day_that_is_none_is_said_and_nothing_is_told(hand: Hand) -> None:
    plate(hand).work.day.setText("2026-02-30")
    hand.click(200, 100)
    assert jobs(hand) == []
    assert hand.words.startswith("2026-02-30 is not a day of the calendar.")


@pytest.mark.parametrize("typed", ["-3", "much", "1001"])
def test_nitrogen_that_cannot_be_is_refused_with_what_to_do(typed: str) -> None:
    with pytest.raises(EditError, match=r"is no amount of nitrogen") as error:
        work_of(WorkTyped(GroundJobKind.MANURE, "2026-03-02", nitrogen=typed))
    assert "such as 80" in error.value.remedy.id


def test_nitrogen_is_typed_in_the_units_of_the_farm() -> None:
    laid = work_of(WorkTyped(GroundJobKind.MANURE, "2026-03-02", nitrogen="100"), "us").n_kg_ha
    assert laid == pytest.approx(112.085, abs=0.001)  # a pound of 0.45359237 kg on an acre of 4046.856 m²
