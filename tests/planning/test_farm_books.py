"""The books of a farm: their lines by page, group and year, as a list, and on paper."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from pigmap.builtin.reports.books import report
from pigmap.document.edits import (
    book_slaughter,
    enter_in_register,
    farrow,
    pigs_bought,
    record_escape,
    serve,
    they_went,
    treat,
    wean,
)
from pigmap.document.edits.slaughter import Went
from pigmap.document.edits.sows import WeanedTo
from pigmap.drawing.cell_words import cell_words
from pigmap.drawing.page import SheetRequest, Words
from pigmap.errors import StoreError
from pigmap.planning.farm_books import COLUMNS, TITLES, BookPage, book_lines, cell_plain, years_of
from pigmap.records import Direction, Farm
from pigmap.session.book_list import book_text, write_book
from tests.document.example_farm import DAY, GROUP, OTHERS, PADDOCK, done, example

REQUEST = SheetRequest(day=DAY, printed_at=datetime(2026, 5, 2, 8), today=DAY)


def farm() -> Farm:
    return done(
        example(),
        treat(GROUP, date(2025, 11, 3), "Iron", withdrawal_days=0),
        treat(GROUP, DAY, "Wormer", withdrawal_days=28, pigs=2, which="12, 13", uid="t"),
        treat(OTHERS, DAY, "Drench"),
        pigs_bought(GROUP, DAY, 2, from_where="A fair", mark="XX 1"),
        enter_in_register(Direction.OFF, DAY + timedelta(days=1), 1, to_where="Knackery"),
        serve(GROUP, "Berta", DAY),
        farrow(GROUP, "Clara", DAY, born=11),
        wean(GROUP, "Clara", DAY + timedelta(days=40), weaned=10, to=WeanedTo(group_uid=OTHERS)),
        book_slaughter(DAY + timedelta(days=9), group_uid=GROUP, pigs=3, least_kg=100.0, uid="b"),
        they_went("b", Went(on=DAY + timedelta(days=9), gone=3, dead_kg=81.5)),
        record_escape(GROUP, DAY, paddock_uid=PADDOCK, pigs_out=3, pigs_back=3, fence_kv=0.4, why="a branch"),
    )


def cells(page: BookPage, at: int = 0, **asked: object) -> dict[str, str]:
    line = book_lines(farm(), page, **asked)[at]  # type: ignore[arg-type]
    return {column.name: cell_plain(cell) for column, cell in zip(COLUMNS[page], line.cells, strict=True)}


def test_the_medicine_book_has_product_days_and_the_first_free_day() -> None:
    line = cells(BookPage.MEDICINE, group_uid=GROUP, year=2026)
    assert (line["medicine"], line["withdrawal_days"], line["free_on"]) == ("Wormer", "28", "2026-05-30")
    assert (line["pigs"], line["which"], line["group"]) == ("2", "12, 13", "Sows")
    unknown = cells(BookPage.MEDICINE, group_uid=OTHERS)
    assert (unknown["withdrawal_days"], unknown["free_on"], unknown["pigs"]) == ("not typed", "", "all")


def test_a_page_can_be_of_one_group_and_one_year() -> None:
    assert len(book_lines(farm(), BookPage.MEDICINE)) == 3
    assert len(book_lines(farm(), BookPage.MEDICINE, group_uid=GROUP)) == 2
    assert len(book_lines(farm(), BookPage.MEDICINE, year=2025)) == 1
    assert years_of(farm(), BookPage.MEDICINE) == [2026, 2025]
    assert [line.day for line in book_lines(farm(), BookPage.MEDICINE, group_uid=GROUP)] == [date(2025, 11, 3), DAY]


def test_the_register_has_what_came_and_what_left() -> None:
    lines = [cells(BookPage.REGISTER, at) for at in range(3)]
    assert [line["direction"] for line in lines] == ["on", "off", "off"]
    assert (lines[0]["from_where"], lines[0]["mark"], lines[0]["group"]) == ("A fair", "XX 1", "Sows")
    assert (lines[1]["to_where"], lines[1]["group"]) == ("Knackery", "")


def test_litters_have_their_days_and_where_the_weaned_went() -> None:
    by_sow = {cells(BookPage.LITTERS, at)["sow"]: cells(BookPage.LITTERS, at) for at in range(2)}
    assert by_sow["Berta"]["due_on"] == (DAY + timedelta(days=114)).isoformat()
    assert (by_sow["Clara"]["born"], by_sow["Clara"]["weaned"], by_sow["Clara"]["weaned_to"]) == ("11", "10", "Weaners")


def test_slaughter_and_escapes_have_what_was_told() -> None:
    went = cells(BookPage.SLAUGHTER)
    assert (went["booked"], went["went"], went["dead_kg"], went["heavy_enough_from_kg"]) == ("3", "3", "81.5", "100")
    out = cells(BookPage.ESCAPES)
    assert (out["paddock"], out["out"], out["fence_kv"], out["why"]) == ("Long Field 1", "3", "0.4", "a branch")


def test_what_is_gone_from_the_farm_is_still_told_of() -> None:
    one = farm()
    groups = {uid: group for uid, group in one.groups.items() if uid != GROUP}
    line = book_lines(replace(one, groups=groups), BookPage.ESCAPES)[0]
    assert "pigs of a group that is gone" in [str(cell) for cell in line.cells]


def test_cells_are_read_in_the_units_of_the_screen() -> None:
    weight = next(column for column in COLUMNS[BookPage.SLAUGHTER] if column.unit == "kg")
    assert cell_words(100.0, weight.unit) == "100.0 kg"
    assert cell_words(100.0, weight.unit, system="us") == "220 lb"
    assert cell_words(DAY) == "1 May 2026"
    assert cell_words(None) == ""


def test_a_list_has_a_line_for_each_and_no_formulas(tmp_path: Path) -> None:
    one = done(farm(), treat(GROUP, DAY, "=1+1", batch="-3"))
    rows = list(csv.DictReader(io.StringIO(book_text(one, BookPage.MEDICINE))))
    assert [row["medicine"] for row in rows].count("'=1+1") == 1
    path = tmp_path / "book.csv"
    assert write_book(one, BookPage.MEDICINE, path, year=2026) == 3
    assert path.read_text(encoding="utf-8-sig").splitlines()[0].startswith("given_on,last_on,group,pigs")


def test_a_list_that_cannot_be_written_says_where(tmp_path: Path) -> None:
    with pytest.raises(StoreError, match=r"book\.csv cannot be written: No such file") as found:
        write_book(farm(), BookPage.MEDICINE, tmp_path / "gone" / "book.csv")
    assert str(found.value.remedy).startswith("Look whether the folder ")


@pytest.mark.parametrize("page", list(BookPage))
def test_every_page_prints_with_its_title_and_who_rules(page: BookPage) -> None:
    of_page = report.of(page)
    assert of_page.sheets(farm(), REQUEST) == 1
    sheet = of_page.make(farm(), {}, REQUEST)
    words = [item.words for item in sheet.items if isinstance(item, Words)]
    assert (sheet.width_mm, sheet.height_mm) == (297.0, 210.0)
    assert str(TITLES[page]) in words
    assert any("local rules come first" in each for each in words)
    assert all(0.0 < item.x_mm < 297.0 and item.y_mm < 210.0 for item in sheet.items if isinstance(item, Words))


def test_a_long_page_takes_several_sheets_and_loses_no_line() -> None:
    many = done(example(), *(treat(GROUP, DAY + timedelta(days=at), f"Drench {at}") for at in range(90)))
    of_page = report.of(BookPage.MEDICINE)
    sheets = of_page.sheets(many, REQUEST)
    assert sheets > 1
    pages = [of_page.make(many, {}, replace(REQUEST, sheet=at + 1, sheets=sheets)) for at in range(sheets)]
    words = [item.words for page in pages for item in page.items if isinstance(item, Words)]
    assert [f"Drench {at}" for at in range(90)] == [each for each in words if each.startswith("Drench")]
    assert f"sheet 1 of {sheets}" in words


def test_an_empty_page_says_so() -> None:
    sheet = report.of(BookPage.ESCAPES, group_uid=OTHERS, year=2020).make(example(), {}, REQUEST)
    words = [item.words for item in sheet.items if isinstance(item, Words)]
    assert "Nothing is written down." in words
    assert "Weaners, 2020: 0 lines" in words
