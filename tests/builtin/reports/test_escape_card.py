"""The card for when pigs are out: steps, counts, whom to ring; and the sheet of cards for the pocket."""

from __future__ import annotations

from datetime import datetime, timedelta
from functools import partial

import pytest
import shapely

from pigmap.builtin.reports.escape_card import BLANK, LAST, STEPS, escape_card
from pigmap.builtin.reports.move_card import HIGH_MM, MARGIN_MM, WIDE_MM
from pigmap.builtin.reports.pocket_cards import report
from pigmap.document.edits import change_setting, record_escape
from pigmap.drawing.letters import breadth
from pigmap.drawing.page import Item, Rule, SheetRequest, Words
from pigmap.drawing.words import render
from pigmap.records import Farm
from pigmap.records.phones import phones_of
from tests.document.example_farm import DAY, done, empty, example

REQUEST = SheetRequest(day=DAY, printed_at=datetime(2026, 5, 1, 8), today=DAY)
SOWS = next(iter(example().groups))
TOLD = ["Keeper 01234 5", "Vet 0987 65", "  "]


def card(farm: Farm) -> list[Item]:
    return list(escape_card(farm, REQUEST, partial(render, language="", system="metric")))


def lines(farm: Farm) -> list[str]:
    return [item.words for item in card(farm) if isinstance(item, Words)]


def test_the_card_says_every_step_with_roads_first_and_the_fence_off() -> None:
    said = " ".join(lines(example()))
    for step in STEPS:
        assert str(step) in said
    assert "road" in str(STEPS[0])
    assert any("Switch the fence off before" in str(step) for step in STEPS)
    assert str(LAST) in said
    assert "Common practice" in said


def test_it_says_how_many_pigs_are_to_be_found() -> None:
    assert "Pigs on the farm: Sows 8, Weaners 0" in lines(example())


def test_numbers_that_were_typed_stand_on_it_and_else_lines_to_fill_in() -> None:
    told = done(example(), change_setting("phone numbers", TOLD))
    assert phones_of(told) == ("Keeper 01234 5", "Vet 0987 65")
    assert "Vet 0987 65" in lines(told)
    assert "Neighbour" not in lines(told)
    assert {str(each) for each in BLANK} <= set(lines(empty()))
    assert phones_of(done(example(), change_setting("phone numbers", "none"))) == ()


@pytest.mark.parametrize("numbers", [[], [f"A neighbour with a long name {at} 0123 456 789" for at in range(7)]])
def test_all_of_it_fits_the_card_and_no_line_runs_into_another(numbers: list[str]) -> None:
    farm = done(example(), change_setting("phone numbers", numbers))
    drawn = card(farm)
    words = [item for item in drawn if isinstance(item, Words)]
    for item in words:
        wide = breadth(item.words, item.size_mm, item.weight)
        left = item.x_mm - {"left": 0.0, "centre": wide / 2, "right": wide}[item.align]
        assert left >= MARGIN_MM - 0.5
        assert left + wide <= WIDE_MM - MARGIN_MM + 0.5
        assert item.y_mm <= HIGH_MM - 3.0
    lowest = max(item.y1_mm for item in drawn if isinstance(item, Rule))
    last = next(item for item in words if item.words == str(LAST))
    assert lowest < last.y_mm - last.size_mm


def test_the_sheet_has_two_of_each_card() -> None:
    sheet = report.make(example(), {}, REQUEST)
    titles = [item.words for item in sheet.items if isinstance(item, Words)]
    assert titles.count("Pigs are out") == titles.count("After a shock") == 2
    assert (sheet.width_mm, sheet.height_mm) == (210.0, 297.0)


def test_it_says_where_pigs_got_out_before_and_all_of_it_still_fits() -> None:
    farm = done(
        example(),
        change_setting("phone numbers", [f"Number {at} 0123 456" for at in range(7)]),
        record_escape(SOWS, DAY - timedelta(days=20), point=shapely.Point(-30.0, 20.0), why="net down"),
        record_escape(SOWS, DAY - timedelta(days=3), point=shapely.Point(90.0, 90.0)),
        record_escape(SOWS, DAY - timedelta(days=400), point=shapely.Point(90.0, 90.0), why="long ago"),
    )
    said = [words for words in lines(farm) if words.startswith("Got out before: ")]
    assert len(said) == 2
    assert "in the west of Long Field" in said[0]
    assert "30 m west of " in said[1]
    assert said[1].endswith("; net down")
    drawn = card(farm)
    lowest = max(item.y1_mm for item in drawn if isinstance(item, Rule))
    last = next(item for item in drawn if isinstance(item, Words) and item.words == str(LAST))
    assert lowest < last.y_mm - last.size_mm
